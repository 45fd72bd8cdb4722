#pragma once

#include <string>
#include <vector>

#include "picture/color_key.h"
#include "picture/heat_map.h"
#include "picture/page.h"

namespace pitwright::picture {

/// All grates at one setting, or of one difference.
struct LaySheet {
  std::string head;   ///< "A", or "A → B"
  std::string under;  ///< "level 240° (238 to 243)"
  std::vector<HeatMap> grates;
};

/// The lay at up to four settings and what changed between them.
struct LayPicture {
  std::string title, under, sentence;
  std::vector<LaySheet> settings, differences;
  std::vector<std::string> notes;  ///< small lines at the foot
  std::string usable;              ///< what a mark "usable" frames: "the largest stretch that ..."
  KeyWords difference_words{"runs cooler now", "runs hotter now"};  ///< of the scale of differences
  Scale unit = Scale::fahrenheit;
  double matters_k = 10.0 / 1.8;  ///< the scale reaches at least this far
  double unknown_k = 10.0 / 1.8;  ///< hatched where 1.96 sd is larger
};

/// The scale that all settings share, and the one of all differences; each reaches the largest size
/// of any of its fields and numbers, and at least what matters.
HeatScale setting_scale(const LayPicture& lay);
HeatScale difference_scale(const LayPicture& lay);

/// One picture of the lay. `id` begins every id in it, so that several fit on one web page; where
/// the head is left out, so are the notes.
/// Pre: at least one setting with at least one grate; every sheet has the same grates.
Picture draw_lay(const LayPicture& lay, Page page, const std::string& id = "lay",
                 Head head = Head::told);

}  // namespace pitwright::picture
