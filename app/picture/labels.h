#pragma once

#include <optional>
#include <vector>

#include "picture/svg.h"

namespace pitwright::picture {

/// A number that belongs to a point of a map.
struct Label {
  Point point;
  double width, height;
};

/// Where every label may stand so that none covers another, a point or the edge: as near to its
/// point as there is room, crowded ones moved apart. Empty where there is no room within reach.
/// `radius` is that of the points' own marks [px].
std::vector<std::optional<Box>> place_labels(const std::vector<Label>& labels, const Box& bounds,
                                             double radius);

/// Whether a label stands so far from its point that a line must join them.
bool needs_leader(const Box& label, Point point, double radius);

}  // namespace pitwright::picture
