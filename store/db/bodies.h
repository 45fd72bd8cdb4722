#pragma once

#include <string>
#include <string_view>

#include "db/records.h"
#include "db/store.h"
#include "pit/pit.h"

namespace pitwright::db {

/// How a record's `what` lies in the database: its kind ("mark", "turn" ...) and its content as one
/// JSON object. The same value always gives the same text; numbers come back bit for bit.
/// Made from a value with a number that is not finite, it throws Refusal (bad_input).
struct Body {
  std::string kind;
  std::string json;
};

Body body_of(const Record& record);

/// Puts the content back into `record.what`. Throws Refusal (unavailable) where it is not what
/// body_of made.
void read_body(std::string_view kind, const std::string& json, Record& record);

std::string json_of(const Pit& pit);
Pit pit_of(const std::string& json);

std::string json_of(const KnownPit& pit);
KnownPit known_pit_of(const std::string& json);

}  // namespace pitwright::db
