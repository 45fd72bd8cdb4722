#pragma once

#include "picture/svg.h"
#include "sheet/sheet_view.h"

namespace pitwright::sheet {

/// Shape of the picture to share: as PNG 1200 x 1200 or 1600 x 900 pixels.
enum class ShareShape { square, wide };

/// One picture that stands alone: the sentence, the maps of up to three settings or two and their
/// difference (the changes as bars where no map can be made), cooker, settings, date, repeats,
/// thermometers, weather.
picture::Picture draw_share(const SheetView& view, ShareShape shape);

}  // namespace pitwright::sheet
