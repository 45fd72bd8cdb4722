#pragma once

#include <string>
#include <vector>

#include "sheet/words_moved.h"

namespace pitwright::sheet {

/// What one cell of the table of changes says.
struct ChangeCell {
  std::string number;  ///< "+8 (5 to 13)"; "–" where there is none
  std::string word;    ///< "not yet, 2 more"; empty where there is none
};

/// Every question of the whole burn against every pair of its settings, row after row, answered by
/// `report`, which may be that of a removal.
std::vector<ChangeCell> change_cells(const SheetView& view, const call::Report& report);

/// The table of the whole burn as HTML; its cells carry data-cell with their index.
std::string change_table(const SheetView& view);

}  // namespace pitwright::sheet
