#pragma once

#include <optional>

#include "base/result.h"
#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::call {

/// How a call is made. The defaults are the product's; docs/methods/call.md gives the reasons.
struct Options {
  std::optional<double> as_known_at_s;  ///< look no further than this moment; fills Report::live
  bool needs_stints = true;             ///< work out how many more stints each open question needs
};

/// The verdict on a burn: soak, swing, counting windows, level, lay, tilts, spread and dial gap per
/// setting and between settings, trouble, words.
/// Fails: bad_input where no air probe has a usable reading inside any stint; never for anything
///        milder, which becomes trouble and "muddled".
/// Source: docs/methods/call.md.
Result<Report> make_call(const Burn& burn, const Options& options = {});

}  // namespace pitwright::call
