#pragma once

#include <span>
#include <vector>

namespace pitwright::picture {

/// A field on an even lattice. Shapes: values nx times ny, value at (i, j) at [j nx + i]; i counts
/// along x, j along y. Pre: nx, ny >= 2.
struct Lattice {
  int nx = 0, ny = 0;
  std::span<const double> values;

  double at(int i, int j) const { return values[static_cast<std::size_t>(j * nx + i)]; }
};

/// A place on a lattice in cells: 0 to nx - 1, 0 to ny - 1.
struct LatticePoint {
  double i, j;

  friend bool operator==(const LatticePoint&, const LatticePoint&) = default;
};

/// A closed ring, its last point joined to its first; the part at or above the limit lies to its
/// left (x right, y up).
using Ring = std::vector<LatticePoint>;

/// The part of the lattice where the field is at or above `limit`, as rings: outlines run against
/// the clock, holes with it. Values are taken as straight along the edges of cells; where the four
/// corners of a cell do not decide, the mean of them does. A value that is not finite is never at
/// or above.
std::vector<Ring> region_above(const Lattice& lattice, double limit);

/// The ring with fewer points: none left out lies further than `tolerance` from what is drawn, in
/// cells of one size. Keeps at least three points.
Ring simplified(const Ring& ring, double tolerance);

/// Area of rings in cells, holes taken off.
double area_of(const std::vector<Ring>& rings);

}  // namespace pitwright::picture
