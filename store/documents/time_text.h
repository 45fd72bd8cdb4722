#pragma once

#include <string>

#include "pit/burn.h"

namespace pitwright::documents {

/// A moment of the burn for people and JSON: "2026-05-02T12:52:00-05:00" in the burn's time zone,
/// whole seconds; "0:35:00" (h:mm:ss since the first sample) where the burn has no zero on the
/// world's clock. `seconds` is on the burn's clock and finite.
/// A zone that the zone table does not know is shown as UTC; documents refuse such names when read.
std::string time_text(const BurnClock& clock, double seconds);

}  // namespace pitwright::documents
