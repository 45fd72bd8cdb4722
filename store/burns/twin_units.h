#pragma once

#include <span>

#include "base/result.h"
#include "documents/burn_document.h"
#include "logs/log.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// Two thermometers at one spot, of two loggers, tell a unit that nobody told: where they agree
/// only if the untold one is read in the other scale, the burn is refused with the key to write.
/// burn.probes run beside document.probes, in degC; logs may have given their readings away.
/// Fails: bad_input with file, line and column.
Result<void> check_twin_units(const documents::BurnDocument& document,
                              std::span<const logs::Log> logs, const Burn& burn);

}  // namespace pitwright::burns
