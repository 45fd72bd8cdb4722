#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "call/report.h"
#include "lay/lay.h"
#include "report/call_view.h"
#include "sheet/removals.h"
#include "sheet/shown_burn.h"

namespace pitwright::sheet {

struct SheetOptions {
  Telling telling = {};
  std::string cooker = {};          ///< kind of cooker in plain words; empty: not told
  std::optional<Scale> scale = {};  ///< of the page; else the burn's own
  bool removals = true;             ///< a call a spot and a stint; false where time is short
};

/// Everything a show sheet is made from; it holds no more than may be told.
struct SheetView {
  SheetOptions options;
  Scale scale = Scale::fahrenheit;
  Burn burn;  ///< as burn_to_show gave it
  call::Report report;
  std::optional<lay::Lay> lay;
  std::string no_lay;  ///< why there is no map, as a sentence; empty where there is one
  std::vector<Removal> removals;

  report::CallView call() const { return {report, burn, scale}; }
};

/// Makes the call, the lay and every single removal on the burn as it may be told.
/// Fails like make_call; a lay that cannot be made is told in `no_lay`.
Result<SheetView> make_sheet(const Burn& burn, const SheetOptions& options);

}  // namespace pitwright::sheet
