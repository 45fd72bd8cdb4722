#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/call_view.h"

namespace pitwright::live {

/// What the patio is told: is it soaked, is it counting, what next, is it clear, is something
/// wrong.
struct Fire {
  std::string state;  ///< "waiting", a state of a stint, or "out"
  std::string word;   ///< to print large
  std::optional<double> countdown_s;
  std::string next;                 ///< one thing to do, a sentence
  std::optional<double> next_at_s;  ///< on the burn's clock
  std::optional<std::string> next_setting;
  std::vector<std::string> clear, open;  ///< questions, in words
  std::optional<int>
      stints_more;  ///< would probably settle what is open; empty: never, or nothing is
};

/// Of a burn whose call can be made; `view.report.live` is filled for a burn that still runs.
Fire fire_of(const report::CallView& view);

/// Of a live burn that has been heard for so short a time that nothing can be said of it [s].
inline constexpr double too_short_s = 300.0;
Fire listening_fire();

/// Of a burn whose call cannot be made yet; `why` is the engine's sentence.
Fire waiting_fire(const Burn& burn, const std::string& why);

}  // namespace pitwright::live
