#pragma once

#include <string>
#include <vector>

#include "mapped/lay_view.h"

namespace pitwright::mapped {

/// "±10° of the set point, 250°", "±10° of the level".
std::string band_text(const LayView& view, const lay::Within& within);

/// "level +8° (5 to 13)" of the call's change between two settings of the lay.
std::string level_change_text(const LayView& view, int from, int to);

/// The lay in a breath: of every setting its hottest and coolest grate place where they are likely
/// enough to name, and which setting keeps more of the grates in the band.
std::string lay_sentence(const LayView& view);

/// "about 4 in from the left wall, 2 in from the door side: +14°; 70 % that it is within 4 in of
/// there".
std::string extreme_text(const lay::Extreme& extreme, Scale scale);

/// The largest stretch that is usable, or that none is.
std::string usable_text(const LayView& view, const lay::GrateLay& grate);

/// "dial 262° (255 to 270)" with what it rests on, or why it cannot be said.
std::string dial_text(const DialFor& dial, Scale scale);

/// What the map rests on where that is less than it seems: sentences.
std::vector<std::string> lay_notes(const LayView& view);

/// The published figures of a setting, a line each.
std::vector<std::string> uniformity_lines(const lay::Uniformity& figures, Scale scale);

/// What those figures are not.
std::string uniformity_caution(const lay::Uniformity& figures);

}  // namespace pitwright::mapped
