#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "documents/burn_document.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// Gives every probe that measures a temperature the correction of its thermometer in the burn's
/// roll call, if there is one. The thermometer is `thermometer`, else one named like the channel; a
/// correction or uncertainty written at the probe itself goes first. burn.probes and
/// document.probes run side by side. What was taken, and what was not, goes to `assumed`. Fails:
/// bad_input where `thermometer` names none of the roll call's, or no probe is in it at all.
Result<void> take_roll_call(const documents::BurnDocument& document, Burn& burn,
                            std::vector<std::string>& assumed);

}  // namespace pitwright::burns
