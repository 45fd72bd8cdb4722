#pragma once

#include <vector>

#include "picture/svg.h"

namespace pitwright::picture {

/// A step of 1, 2 or 5 times a power of ten that cuts `span` into at most `most` steps. Pre: span >
/// 0, most >= 1.
double round_step(double span, int most);

/// The multiples of that step from `low` to `high`.
std::vector<double> ticks(double low, double high, int most);

struct Stroke {
  std::string_view color;
  double width = 1.0;
  std::string_view dashes = {};
};

void put_line(Svg& svg, Point from, Point to, const Stroke& stroke);

}  // namespace pitwright::picture
