#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "burns/moments.h"
#include "logs/log.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// Puts every probe at its spot with its readings: degC on the burn's clock, cut to from/to.
/// Readings are moved out of `logs`. burn.pit, burn.pieces and burn.scale are there already.
/// Fails: bad_input with file, line and column.
Result<void> place_probes(const Moments& moments, std::vector<logs::Log>& logs, Burn& burn,
                          std::vector<std::string>& assumed);

}  // namespace pitwright::burns
