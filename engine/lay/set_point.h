#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lay/lay.h"

namespace pitwright::lay {

// What to dial. All rises are over the outside air: by ASTM E145's ratio a place keeps its share
//   r = (T_place - T_outside) / (T_set - T_outside)
// when the set point or the weather changes. The share comes from the burns; how well it keeps is
// learned from burns at several set points, else assumed and said.

/// One burn, or one set point of it, as evidence: the air at the wanted place and what was dialed.
struct Dialed {
  double set_c;                     ///< what was dialed
  std::optional<double> outside_c;  ///< empty: unknown
  double place_c, place_sd_k;  ///< the air at the place or over the patch, thermometer included
};

enum class DialNote {
  outside_assumed,  ///< some burn's outside air is unknown: taken as assumed_outside_c +- 10 K
  one_set_point,    ///< the ratio is taken to hold away from the one set point that was tried
  far_from_tried,   ///< the answer lies more than 30 K from every set point tried
  today_assumed     ///< today's outside air is unknown: taken as that of the burns
};

struct SetPointFor {
  double wanted_c;
  double outside_c;      ///< for which the answer holds
  Estimate set_c;        ///< what to dial
  Estimate ratio;        ///< r, as above
  double per_outside_k;  ///< how much more to dial for each kelvin colder outside
  double place_sd_k;     ///< what remains unknown of the place's air at set_c.value
  std::vector<DialNote> notes;
};

/// The set point that brings a place to a wanted heat.
/// Fails: bad_input where there is no evidence, or where a place was no warmer than outside.
/// Source: ASTM E145 (uniformity as a share of the rise over ambient); docs/methods/lay.md.
Result<SetPointFor> set_point_for(double wanted_c, std::optional<double> outside_c,
                                  const std::vector<Dialed>& evidence);

/// The evidence of a lay for a patch at one setting. Empty where the set point is unknown.
std::optional<Dialed> dialed(const Lay& lay, const Patch& patch, int setting,
                             std::optional<double> set_c, std::optional<double> outside_c);

}  // namespace pitwright::lay
