#include "picture/bands.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/expects.h"

namespace pitwright::picture {
namespace {

/// A point of an outline by what it lies on: a corner of the lattice, or the crossing on the edge
/// that starts at a corner and runs along x or y. Two cells that share an edge name it alike.
struct Node {
  int i, j, kind;  ///< kind 0 corner, 1 edge along x, 2 edge along y

  friend auto operator<=>(const Node&, const Node&) = default;
};

/// One step of an outline, the region to its left.
using Steps = std::multimap<Node, Node>;

class Tracer {
 public:
  Tracer(const Lattice& lattice, double limit) : lattice_(lattice), limit_(limit) {}

  std::vector<Ring> rings() {
    for (int j = 0; j + 1 < lattice_.ny; ++j) {
      for (int i = 0; i + 1 < lattice_.nx; ++i) walk_cell(i, j);
    }
    std::vector<Ring> all;
    while (!steps_.empty()) all.push_back(next_ring());
    return all;
  }

 private:
  bool above(int i, int j) const { return lattice_.at(i, j) >= limit_; }

  /// The polygon of the cell's part above the limit, against the clock, as nodes.
  void walk_cell(int i, int j) {
    const std::pair<int, int> corners[] = {{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}};
    const Node edges[] = {{i, j, 1}, {i + 1, j, 2}, {i, j + 1, 1}, {i, j, 2}};
    bool in[4];
    for (int k = 0; k < 4; ++k) in[k] = above(corners[k].first, corners[k].second);
    const bool crossed = in[0] == in[2] && in[1] == in[3] && in[0] != in[1];
    if (crossed && !middle_above(i, j)) {
      for (int k = 0; k < 4; ++k) {
        if (in[k]) add_polygon({node(corners[k]), edges[k], edges[(k + 3) % 4]});
      }
      return;
    }
    std::vector<Node> polygon;
    for (int k = 0; k < 4; ++k) {
      if (in[k]) polygon.push_back(node(corners[k]));
      if (in[k] != in[(k + 1) % 4]) polygon.push_back(edges[k]);
    }
    add_polygon(polygon);
  }

  static Node node(std::pair<int, int> corner) { return {corner.first, corner.second, 0}; }

  bool middle_above(int i, int j) const {
    const double sum = lattice_.at(i, j) + lattice_.at(i + 1, j) + lattice_.at(i, j + 1) +
                       lattice_.at(i + 1, j + 1);
    return sum / 4.0 >= limit_;
  }

  /// Steps that the neighbor walks the other way cancel: what is left is the outline.
  void add_polygon(const std::vector<Node>& polygon) {
    for (std::size_t k = 0; k < polygon.size(); ++k) {
      add_step(polygon[k], polygon[(k + 1) % polygon.size()]);
    }
  }

  void add_step(const Node& from, const Node& to) {
    const auto [first, last] = steps_.equal_range(to);
    const auto back =
        std::find_if(first, last, [&](const auto& step) { return step.second == from; });
    if (back != last) {
      steps_.erase(back);
    } else {
      steps_.emplace(from, to);
    }
  }

  Ring next_ring() {
    Ring ring;
    const Node start = steps_.begin()->first;
    Node here = start;
    do {
      const auto step = steps_.find(here);
      expects(step != steps_.end());
      ring.push_back(place(here));
      here = step->second;
      steps_.erase(step);
    } while (here != start);
    return without_straight(ring);
  }

  LatticePoint place(const Node& node) const {
    const double i = node.i, j = node.j;
    if (node.kind == 0) return {i, j};
    const double here = lattice_.at(node.i, node.j);
    const double there =
        node.kind == 1 ? lattice_.at(node.i + 1, node.j) : lattice_.at(node.i, node.j + 1);
    const double share = crossing(here, there);
    return node.kind == 1 ? LatticePoint{i + share, j} : LatticePoint{i, j + share};
  }

  double crossing(double here, double there) const {
    const double share = (limit_ - here) / (there - here);
    return std::isfinite(share) ? std::clamp(share, 0.0, 1.0) : 0.5;
  }

  /// Points on top of their neighbor, between two others on one straight line, or at the end of a
  /// way there and back say nothing.
  static Ring without_straight(Ring ring) {
    constexpr double dust = 1e-9;
    for (std::size_t k = 0, idle = 0; ring.size() > 2 && idle < ring.size();) {
      const std::size_t n = ring.size();
      k %= n;
      const auto &a = ring[(k + n - 1) % n], &b = ring[k], &c = ring[(k + 1) % n];
      const double turn = (b.i - a.i) * (c.j - b.j) - (b.j - a.j) * (c.i - b.i);
      if (std::abs(turn) > dust) {
        ++k;
        ++idle;
        continue;
      }
      ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(k));
      k = k == 0 ? 0 : k - 1;
      idle = 0;
    }
    return ring;
  }

  const Lattice& lattice_;
  double limit_;
  Steps steps_;
};

double distance(const LatticePoint& p, const LatticePoint& a, const LatticePoint& b) {
  const double di = b.i - a.i, dj = b.j - a.j;
  const double length = std::hypot(di, dj);
  if (length == 0.0) return std::hypot(p.i - a.i, p.j - a.j);
  return std::abs(di * (a.j - p.j) - (a.i - p.i) * dj) / length;
}

/// Marks what must stay between first and last, both of which stay.
/// Source: D. Douglas, T. Peucker, Cartographica 10 (1973), the farthest point splits the line.
void keep_farthest(const Ring& line, std::size_t first, std::size_t last, double tolerance,
                   std::vector<char>& keep) {
  double farthest = tolerance;
  std::size_t split = first;
  for (std::size_t k = first + 1; k < last; ++k) {
    const double off = distance(line[k], line[first], line[last]);
    if (off > farthest) {
      farthest = off;
      split = k;
    }
  }
  if (split == first) return;
  keep[split] = 1;
  keep_farthest(line, first, split, tolerance, keep);
  keep_farthest(line, split, last, tolerance, keep);
}

}  // namespace

std::vector<Ring> region_above(const Lattice& lattice, double limit) {
  expects(lattice.nx >= 2 && lattice.ny >= 2 &&
          std::ssize(lattice.values) == static_cast<std::ptrdiff_t>(lattice.nx) * lattice.ny);
  auto rings = Tracer(lattice, limit).rings();
  std::erase_if(rings, [](const Ring& ring) { return ring.size() < 3; });
  return rings;
}

Ring simplified(const Ring& ring, double tolerance) {
  if (ring.size() < 4) return ring;
  const auto from_first = [&](const LatticePoint& p) {
    return std::hypot(p.i - ring[0].i, p.j - ring[0].j);
  };
  const auto far =
      static_cast<std::size_t>(std::ranges::max_element(ring, {}, from_first) - ring.begin());
  Ring line = ring;
  line.push_back(ring[0]);
  std::vector<char> keep(line.size(), 0);
  keep[0] = keep[far] = 1;
  keep_farthest(line, 0, far, tolerance, keep);
  keep_farthest(line, far, line.size() - 1, tolerance, keep);
  Ring kept;
  for (std::size_t k = 0; k < ring.size(); ++k) {
    if (keep[k] != 0) kept.push_back(ring[k]);
  }
  return kept.size() < 3 ? ring : kept;
}

double area_of(const std::vector<Ring>& rings) {
  double twice = 0.0;
  for (const auto& ring : rings) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
      const auto &a = ring[k], &b = ring[(k + 1) % ring.size()];
      twice += a.i * b.j - b.i * a.j;
    }
  }
  return twice / 2.0;
}

}  // namespace pitwright::picture
