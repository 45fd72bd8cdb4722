#pragma once

#include <variant>

#include "documents/value.h"
#include "units/temperature.h"

namespace pitwright::documents {

/// A time as a document says it, before the clocks are known: since the burn's first sample, on a
/// wall clock of the burn's zone, or an instant.
struct WrittenTime {
  std::variant<Seconds, LocalTime, Instant> of;
  Place place;
};

}  // namespace pitwright::documents
