#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "documents/burn_document.h"
#include "logs/log.h"

namespace pitwright::burns {

/// What ties one logger's clock to the common time line.
struct ClockTie {
  bool world = false;  ///< the line is the world's clock; else elapsed time of the reference logger
  bool stated = false;         ///< somebody said how it stands
  std::int64_t shift_ms = 0;   ///< common time = stamp + shift
  std::int64_t offset_ms = 0;  ///< the part of the shift that is not `zero`
  double drift_s_per_h = 0.0;
  std::int64_t drift_at_ms = 0;
  double uncertainty_s = 0.0;
  std::string how;

  std::int64_t common_ms(std::int64_t stamp_ms) const { return stamp_ms + shift_ms; }
};

/// Ties every log by what its document says of it: zero, offset, mark, match.
/// Fails: bad_input with file, line and column.
Result<std::vector<ClockTie>> tie_clocks(const documents::BurnDocument& document,
                                         std::span<const logs::Log> logs);

}  // namespace pitwright::burns
