#pragma once

#include <span>
#include <string>
#include <string_view>

#include "base/result.h"
#include "food/composition.h"

namespace pitwright::food {

/// A cut by its plain name.
/// Composition: USDA National Nutrient Database for Standard Reference, release 26 (2013), raw; the
/// amounts are as published, per 100 g, and add up to 99.3 .. 101.1.
/// Proportions: how long and wide a piece is as a multiple of its mean thickness, and the thin
/// end's thickness as a share of the thick one's (common practice, no source).
struct Cut {
  std::string_view name;
  int ndb;                ///< USDA's number
  std::string_view usda;  ///< what USDA calls it, shortened
  Composition per_100g;
  double length, width;  ///< multiples of the mean thickness
  double taper;
  bool has_bone;  ///< usually sold with bone, which is left out of the model
};

std::span<const Cut> cuts();

/// Fails: not_found where there is no such cut; the sentence names a few that there are.
Result<Cut> find_cut(std::string_view name);

}  // namespace pitwright::food
