#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "documents/burn_document.h"
#include "logs/log.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// "C", "F", "K", "%", "km/h" ...; "unknown" where it is.
std::string_view name_of(logs::ChannelUnit unit);

/// The unit of the burn: the document's, else the one unit its logs' headers agree on (said in
/// `assumed`). Fails: bad_input asking for `unit`.
Result<Scale> scale_of(const documents::BurnDocument& document, std::span<const logs::Log> logs,
                       std::vector<std::string>& assumed);

/// Brings a channel's values to what the engine holds: degC for temperatures, km/h for wind, % for
/// drive. `channel.unit` says afterwards what was taken as the unit. An unknown unit is the log's,
/// else the burn's; then true is returned.
/// Fails: bad_input where role and unit do not go together, or header and [[log]] contradict.
Result<bool> bring_to_engine_units(logs::LogChannel& channel, const documents::LogSpec& spec,
                                   Role role, Scale scale);

/// Whether most readings [degC] lie where no chamber, fire or weather can be.
bool makes_no_sense(std::span<const double> celsius);

}  // namespace pitwright::burns
