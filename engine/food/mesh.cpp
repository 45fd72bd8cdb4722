#include "food/mesh.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "base/expects.h"

namespace pitwright::food {

namespace {

using std::numbers::pi;

/// Up to four cells about a place on an axis of n equal cells, with the weights of the polynomial
/// through them: the probe's own error stays below that of the cells.
std::vector<Mesh::Part> about(double share, int n) {
  const double at = std::clamp(share * n - 0.5, 0.0, n - 1.0);
  const int count = std::min(n, 4);
  const int low = std::clamp(static_cast<int>(at) - 1, 0, n - count);
  std::vector<Mesh::Part> parts;
  for (int a = low; a < low + count; ++a) {
    double weight = 1;
    for (int b = low; b < low + count; ++b) {
      if (b != a) weight *= (at - b) / (a - b);
    }
    if (std::abs(weight) > 1e-12) parts.push_back({a, weight});
  }
  return parts;
}

struct Grid {
  const Brick& brick;
  int nx, ny, nz;
  double dx, dy;

  explicit Grid(const Brick& b)
      : brick(b),
        nx(b.cells[0]),
        ny(b.cells[1]),
        nz(b.cells[2]),
        dx(b.length_m / nx),
        dy(b.width_m / ny) {}

  int index(int i, int j, int k) const { return (k * ny + j) * nx + i; }
  double height(int i) const { return brick.thickness_at((i + 0.5) / nx) / nz; }
  double slope() const { return (brick.thick_m - brick.thin_m) / 2 / brick.length_m; }
};

void add_cell(const Grid& g, int i, int j, int k, Mesh& mesh) {
  const int here = g.index(i, j, k);
  const double dz = g.height(i);
  mesh.volume_m3.push_back(g.dx * g.dy * dz);
  if (i + 1 < g.nx) {
    mesh.links.push_back({here, g.index(i + 1, j, k), g.dy * (dz + g.height(i + 1)) / 2 / g.dx});
  }
  if (j + 1 < g.ny) mesh.links.push_back({here, g.index(i, j + 1, k), g.dx * dz / g.dy});
  if (k + 1 < g.nz) mesh.links.push_back({here, g.index(i, j, k + 1), g.dx * g.dy / dz});
}

void add_faces(const Grid& g, Mesh& mesh) {
  const auto face = [&](int i, int j, int k, Side side, double area, double depth) {
    mesh.faces.push_back({g.index(i, j, k), static_cast<int>(side), area, depth});
  };
  const double left = g.brick.thick_m / g.nz, right = g.brick.thin_m / g.nz;
  for (int k = 0; k < g.nz; ++k) {
    for (int j = 0; j < g.ny; ++j) face(0, j, k, Side::left, g.dy * left, g.dx / 2);
  }
  for (int k = 0; k < g.nz; ++k) {
    for (int j = 0; j < g.ny; ++j) face(g.nx - 1, j, k, Side::right, g.dy * right, g.dx / 2);
  }
  for (int k = 0; k < g.nz; ++k) {
    for (int i = 0; i < g.nx; ++i) face(i, 0, k, Side::front, g.dx * g.height(i), g.dy / 2);
  }
  for (int k = 0; k < g.nz; ++k) {
    for (int i = 0; i < g.nx; ++i) face(i, g.ny - 1, k, Side::back, g.dx * g.height(i), g.dy / 2);
  }
  const double slant = std::sqrt(1 + g.slope() * g.slope());
  for (int j = 0; j < g.ny; ++j) {
    for (int i = 0; i < g.nx; ++i) {
      face(i, j, 0, Side::bottom, g.dx * g.dy * slant, g.height(i) / 2);
    }
  }
  for (int j = 0; j < g.ny; ++j) {
    for (int i = 0; i < g.nx; ++i) {
      face(i, j, g.nz - 1, Side::top, g.dx * g.dy * slant, g.height(i) / 2);
    }
  }
}

/// Which face each cell's water takes: the nearest along an axis; of equals the first side.
void route_water(const Grid& g, Mesh& mesh) {
  std::vector<std::vector<int>> of_side(sides);
  for (int f = 0; f < static_cast<int>(mesh.faces.size()); ++f) {
    of_side[static_cast<std::size_t>(mesh.faces[static_cast<std::size_t>(f)].side)].push_back(f);
  }
  for (int k = 0; k < g.nz; ++k) {
    for (int j = 0; j < g.ny; ++j) {
      for (int i = 0; i < g.nx; ++i) {
        const double dz = g.height(i);
        const std::array<double, sides> distance{(i + 0.5) * g.dx, (g.nx - i - 0.5) * g.dx,
                                                 (j + 0.5) * g.dy, (g.ny - j - 0.5) * g.dy,
                                                 (k + 0.5) * dz,   (g.nz - k - 0.5) * dz};
        std::size_t side = 0;
        for (std::size_t s = 1; s < sides; ++s) {
          if (distance[s] < distance[side] * (1 - 1e-9)) side = s;  // rounding decides nothing
        }
        const int place = side < 2 ? k * g.ny + j : side < 4 ? k * g.nx + i : j * g.nx + i;
        mesh.nearest_face.push_back(of_side[side][static_cast<std::size_t>(place)]);
      }
    }
  }
}

}  // namespace

Mesh brick_mesh(const Brick& brick) {
  expects(brick.length_m > 0 && brick.width_m > 0 && brick.thick_m > 0 && brick.thin_m > 0);
  expects(std::ranges::all_of(brick.cells, [](int n) { return n > 0; }));
  const Grid g(brick);
  Mesh mesh;
  for (int k = 0; k < g.nz; ++k) {
    for (int j = 0; j < g.ny; ++j) {
      for (int i = 0; i < g.nx; ++i) add_cell(g, i, j, k, mesh);
    }
  }
  add_faces(g, mesh);
  route_water(g, mesh);
  for (const auto& z : about(brick.probe[2], g.nz)) {
    for (const auto& y : about(brick.probe[1], g.ny)) {
      for (const auto& x : about(brick.probe[0], g.nx)) {
        const double weight = x.weight * y.weight * z.weight;
        mesh.probe.push_back({g.index(x.cell, y.cell, z.cell), weight});
      }
    }
  }
  return mesh;
}

Mesh sphere_mesh(double radius_m, int shells) {
  expects(radius_m > 0 && shells >= 2);
  Mesh mesh;
  const double dr = radius_m / shells;
  for (int i = 0; i < shells; ++i) {
    const double inner = i * dr, outer = (i + 1) * dr;
    mesh.volume_m3.push_back(4 * pi / 3 * (outer * outer * outer - inner * inner * inner));
    if (i + 1 < shells) mesh.links.push_back({i, i + 1, 4 * pi * outer * outer / dr});
    mesh.nearest_face.push_back(0);
  }
  mesh.faces.push_back(
      {shells - 1, static_cast<int>(Side::top), 4 * pi * radius_m * radius_m, dr / 2});
  // T is even in r: through dr/2 and 3dr/2, T(0) = T1 - (T2 - T1)/8.
  mesh.probe = {{0, 9.0 / 8}, {1, -1.0 / 8}};
  return mesh;
}

Mesh cylinder_mesh(double radius_m, double length_m, int rings, int layers) {
  expects(radius_m > 0 && length_m > 0 && rings >= 2 && layers >= 2);
  Mesh mesh;
  const double dr = radius_m / rings, dz = length_m / layers;
  const auto cut = [&](int i) { return pi * dr * dr * ((i + 1.0) * (i + 1.0) - double(i) * i); };
  for (int k = 0; k < layers; ++k) {
    for (int i = 0; i < rings; ++i) {
      const int here = k * rings + i;
      mesh.volume_m3.push_back(cut(i) * dz);
      if (i + 1 < rings) mesh.links.push_back({here, here + 1, 2 * pi * (i + 1) * dz});
      if (k + 1 < layers) mesh.links.push_back({here, here + rings, cut(i) / dz});
    }
  }
  for (int k = 0; k < layers; ++k) {
    mesh.faces.push_back(
        {k * rings + rings - 1, static_cast<int>(Side::left), 2 * pi * radius_m * dz, dr / 2});
  }
  for (int i = 0; i < rings; ++i) {
    mesh.faces.push_back({i, static_cast<int>(Side::bottom), cut(i), dz / 2});
  }
  for (int i = 0; i < rings; ++i) {
    mesh.faces.push_back({(layers - 1) * rings + i, static_cast<int>(Side::top), cut(i), dz / 2});
  }
  for (int k = 0; k < layers; ++k) {
    for (int i = 0; i < rings; ++i) {
      const double out = radius_m - (i + 0.5) * dr, down = (k + 0.5) * dz,
                   up = length_m - (k + 0.5) * dz;
      mesh.nearest_face.push_back(out <= std::min(down, up) ? k
                                  : down <= up              ? layers + i
                                                            : layers + rings + i);
    }
  }
  for (const auto& z : about(0.5, layers)) {
    mesh.probe.push_back({z.cell * rings, z.weight * 9 / 8});
    mesh.probe.push_back({z.cell * rings + 1, -z.weight / 8});
  }
  return mesh;
}

}  // namespace pitwright::food
