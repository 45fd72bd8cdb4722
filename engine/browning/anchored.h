#pragma once

#include <array>
#include <vector>

#include "browning/link.h"

namespace pitwright::browning {

enum class Shape { straight, logit, first_order };

inline constexpr std::array all_shapes{Shape::straight, Shape::logit, Shape::first_order};

/// c(u) of a lightness, and how fast it changes with the lightness (size). u is held within
/// 0.01 .. 0.99.
struct Coordinate {
  double c, per_lightness;
};

Coordinate coordinate_of(double lightness, Shape shape, const LinkOptions& options);

/// An anchor in a shape's coordinate.
struct Placed {
  double c, y, variance;  ///< variance of the thermometer's mean
  double lightness_c_sd;  ///< sd of c from the photograph
};

/// Moments of one (shape, b, s) after the level a and the sets of apart anchors are integrated.
struct Anchored {
  double log_weight;          ///< of the data, without the priors of b and s
  double a, a_variance;       ///< mean and variance of the level
  std::vector<double> apart;  ///< per anchor, chance
};

Anchored anchored(const std::vector<Placed>& anchors, double b, double s);

}  // namespace pitwright::browning
