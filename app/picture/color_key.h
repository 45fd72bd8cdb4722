#pragma once

#include <string>

#include "picture/colors.h"
#include "picture/lettering.h"
#include "units/temperature.h"

namespace pitwright::picture {

/// What the two sides of a scale mean: "cooler than the level", "hotter than the level".
struct KeyWords {
  std::string cool, warm;
};

/// The scale of colors as a bar of bands with every limit in numbers, drawn `width` wide from `at`
/// down; the height it took.
double put_key(Svg& svg, const HeatScale& colors, Scale unit, const KeyWords& words, Point at,
               double width, double letters, const Attributes& attributes);

}  // namespace pitwright::picture
