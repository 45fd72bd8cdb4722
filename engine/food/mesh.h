#pragma once

#include <array>
#include <vector>

namespace pitwright::food {

/// The six sides of a piece as it lies: along x, y and z (up), low end first.
enum class Side { left, right, front, back, bottom, top };
inline constexpr int sides = 6;

/// A body cut into finite volumes. Heat flows between neighbors by
///   conductance [m] x (difference of the integral of k), and to the surface likewise.
struct Mesh {
  struct Link {
    int a, b;       ///< cells
    double area_m;  ///< area / distance of the centers
  };
  struct Face {
    int cell;
    int side;  ///< which Side's surroundings it feels
    double area_m2;
    double depth_m;  ///< from the cell's center to the surface
  };
  std::vector<double> volume_m3;
  std::vector<Link> links;
  std::vector<Face> faces;
  std::vector<int> nearest_face;  ///< for each cell, the face its released water comes out of
  /// The probe: cells and weights (sum 1).
  struct Part {
    int cell;
    double weight;
  };
  std::vector<Part> probe;

  int cells() const { return static_cast<int>(volume_m3.size()); }
};

/// A brick, its thickness going evenly from thick_m at the left end to thin_m at the right one.
///   cells:  counts along x, y, z; cell (i, j, k) has index (k ny + j) nx + i
/// Where the thickness changes, layers stay layers: a link across a step of thickness has the mean
/// of both cells' heights as its area; the slope adds to the area of top and bottom.
struct Brick {
  double length_m = 0;  ///< x
  double width_m = 0;   ///< y
  double thick_m = 0;   ///< z at the left end
  double thin_m = 0;    ///< z at the right end; equal: a plain brick
  std::array<int, 3> cells{10, 10, 10};
  /// Where the probe's tip is, as shares of length, width and local thickness.
  std::array<double, 3> probe{0.5, 0.5, 0.5};

  double thickness_at(double share) const { return thick_m + (thin_m - thick_m) * share; }
  double volume_m3() const { return length_m * width_m * (thick_m + thin_m) / 2; }
};
Mesh brick_mesh(const Brick& brick);

/// A sphere of n shells; its surface is Side::top, its probe the center.
Mesh sphere_mesh(double radius_m, int shells);
/// A cylinder with its axis along z: rings x layers; mantle Side::left, ends bottom and top.
Mesh cylinder_mesh(double radius_m, double length_m, int rings, int layers);

}  // namespace pitwright::food
