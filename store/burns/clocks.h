#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "documents/burn_document.h"
#include "logs/log.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// How one logger's stamps become seconds on the burn's clock.
struct LogClock {
  std::int64_t zero_ms = 0;  ///< the stamp that is the burn's zero, drift aside
  double drift_s_per_h = 0.0;
  std::int64_t drift_at_ms = 0;  ///< the stamp at which the drift adds nothing
  double offset_s = 0.0;         ///< what was added to its stamps, beyond time zone and `zero`
  double uncertainty_s = 0.0;    ///< +- at 95 %
  std::string how;               ///< for people

  double seconds(std::int64_t ms) const {
    const double since = static_cast<double>(ms - drift_at_ms) / 1000.0;
    return static_cast<double>(ms - zero_ms) / 1000.0 + drift_s_per_h * since / 3600.0;
  }
};

/// All loggers of a burn on one clock.
struct Clocks {
  BurnClock clock;
  double uncertainty_s = 0.0;  ///< the largest of the logs
  std::vector<LogClock> logs;  ///< in the order of the document
  std::vector<std::string> assumed;
};

/// How well two clocks agree of which nothing was said and nothing can be told [s, +- at 95 %].
/// Common practice, no source: people set loggers by a phone, to about half a minute.
inline constexpr double untold_clock_uncertainty_s = 30.0;

/// Puts the loggers' clocks together: stated offsets, common marks, matched channels. The burn's
/// zero is the first sample of all. Logs and document.logs run side by side.
/// Fails: bad_input where the clocks cannot be told apart or together; the sentence proposes the
/// keys to write.
Result<Clocks> put_clocks_together(const documents::BurnDocument& document,
                                   std::span<const logs::Log> logs);

/// "7 min 20 s", "1 h 7 min 20 s", "0.4 s", with a sign: as `offset` takes it.
std::string offset_text(double seconds);

}  // namespace pitwright::burns
