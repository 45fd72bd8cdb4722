#pragma once

#include <string>

#include "sheet/sheet_view.h"

namespace pitwright::sheet {

/// One figure of the sheet: the same picture for a page and for a phone.
struct Figure {
  std::string markup;      ///< <figure> with both; CSS shows one
  double height_px = 0.0;  ///< of the page's, 720 px wide
};

/// The maps and what changed between them; a sentence instead where no map can be made.
Figure lay_figure(const SheetView& view);
Figure changes_figure(const SheetView& view);
Figure strip_figure(const SheetView& view);

}  // namespace pitwright::sheet
