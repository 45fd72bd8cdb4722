#pragma once

#include <string>

#include "sheet/sheet_view.h"

namespace pitwright::sheet {

/// The choice of what to leave out: one radio button a removal, hidden until a script runs.
std::string switch_markup(const SheetView& view);

/// Sentence, numbers and words of the whole burn and of every removal, as the JSON that the script
/// reads; ready to stand inside a script element.
std::string switch_data(const SheetView& view);

}  // namespace pitwright::sheet
