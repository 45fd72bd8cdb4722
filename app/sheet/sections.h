#pragma once

#include <string>
#include <vector>

#include "sheet/sheet_view.h"

namespace pitwright::sheet {

// The texts of the sheet, each as lists of plain sentences; markup comes later.

struct WordMeaning {
  std::string word, meaning;
};

/// What the five words mean, with what matters to this burn put in.
std::vector<WordMeaning> word_meanings(const SheetView& view);

/// Everything that went wrong, and what would mend it.
std::vector<std::string> trouble_list(const SheetView& view);

/// Which questions are open and how many stints more would probably settle them.
std::vector<std::string> open_questions(const SheetView& view);

/// Which words stand whatever one spot or stint is left out, which fall without which, and which
/// open questions would then look settled. The firm ones come first.
std::vector<std::string> removal_findings(const SheetView& view);

/// What the sheet does not show.
std::vector<std::string> limits_of(const SheetView& view);

/// The usual cautions of the foot.
std::vector<std::string> cautions();

/// "level, A → B: too close → not yet" of every word that a removal moves.
std::vector<std::string> moved_texts(const SheetView& view, const Removal& removal);

}  // namespace pitwright::sheet
