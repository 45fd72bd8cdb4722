#pragma once

#include <string>
#include <vector>

#include "sheet/sheet_view.h"

namespace pitwright::sheet {

struct Fact {
  std::string label, text;
};

/// How it was tested: cooker, settings, order, repeats, thermometers and their checks, weather,
/// dates. What was not recorded is said to be so.
std::vector<Fact> facts_of(const SheetView& view);

/// "A 2 times, B 2 times": the stints of each setting that count.
std::string repeats_text(const SheetView& view);

/// "6 thermometers on 2 grates".
std::string thermometers_text(const SheetView& view);

/// "outside 48° to 55°", or nothing where it was not recorded.
std::string outside_text(const SheetView& view);

/// The kind of cooker as far as it may be told; empty where nothing is known.
std::string cooker_text(const SheetView& view);

/// What the heading says: the burn's title where it may be told, else "A and B compared".
std::string heading_text(const SheetView& view);

}  // namespace pitwright::sheet
