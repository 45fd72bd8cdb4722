#pragma once

#include <optional>
#include <vector>

#include "base/result.h"
#include "db/records.h"
#include "http/body.h"

namespace pitwright::resources {

/// The Spot of docs/reference/api.openapi.json as a placement, from a moment on where one is given.
/// Fails: bad_input.
Result<db::Placement> read_spot(http::Body body, std::optional<db::Stamp> from);

/// Each of a list.
Result<std::vector<db::Placement>> read_spots(std::vector<http::Body> bodies,
                                              std::optional<db::Stamp> from);

}  // namespace pitwright::resources
