#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "burns/clock_ties.h"
#include "documents/burn_document.h"
#include "logs/log.h"

namespace pitwright::burns {

/// Refuses clocks that cannot belong together: loggers that count from their own start and are tied
/// to nothing, logs of which nothing was said and that have no time in common; the latter with the
/// keys to write where whole hours would bring them together.
Result<void> check_clocks(const documents::BurnDocument& document, std::span<const logs::Log> logs,
                          const std::vector<ClockTie>& ties);

/// Looks whether clocks of which nothing was said agree, by what channels of two logs have seen.
/// Sets their uncertainty and says what it found.
void compare_untold_clocks(const documents::BurnDocument& document, std::span<const logs::Log> logs,
                           std::vector<ClockTie>& ties, std::vector<std::string>& assumed);

}  // namespace pitwright::burns
