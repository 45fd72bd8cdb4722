#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sheet/sheet_view.h"

namespace pitwright::sheet {

/// A question of the call: a quantity with a name that stays the same whatever is taken away.
struct Question {
  std::string name;     ///< "level", "left-right", a spot's name
  std::string heading;  ///< the group it stands in
  const call::Quantity* quantity = nullptr;
};

/// All questions in the order of the page: the whole chamber, where the heat lies, every spot.
std::vector<Question> questions_of(const call::Report& report);

/// The same question in another report; nullptr where it is not asked there.
const call::Quantity* same_question(const call::Report& report, const Question& question);

/// The change of a quantity between two settings by name; nullptr where there is none.
const call::Change* change_named(const call::Report& report, const call::Quantity* quantity,
                                 const std::string& from, const std::string& to);

/// Pairs of settings that have changes, in the order of the report.
std::vector<std::pair<int, int>> pairs_of(const call::Report& report);

/// A word that a removal turns into another.
struct WordMoved {
  std::string question;
  int from, to;  ///< settings of the whole burn
  std::string was;
  std::optional<std::string> is;  ///< empty: the question cannot be asked any more
};

/// Every word that is another one without it. A question about the removed spot itself is not
/// counted.
std::vector<WordMoved> words_moved(const SheetView& view, const Removal& removal);

/// "L1", or "stint 3 (B)".
std::string removal_name(const SheetView& view, const Removal& removal);

}  // namespace pitwright::sheet
