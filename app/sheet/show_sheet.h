#pragma once

#include <string>

#include "sheet/sheet_view.h"

namespace pitwright::sheet {

/// The show sheet: one HTML document that needs nothing else, for people who were not there. It
/// works from a file without a network, prints on one page, and lets a reader leave out any
/// thermometer spot or stint; without scripts everything but that is there. The same view gives
/// the same bytes.
std::string show_sheet(const SheetView& view);

}  // namespace pitwright::sheet
