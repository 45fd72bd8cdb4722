#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "http/desk.h"
#include "http/routes.h"
#include "units/temperature.h"

namespace pitwright::resources {

using http::Asked;
using live::CallAsked;
using live::Standing;

// What several resources read from a request.

/// The burn that the path names. Fails: not_found with the nearest name.
Result<Standing> asked_burn(const Asked& asked);

/// ?unit=, else `own`. Fails: bad_input.
Result<Scale> asked_scale(const Asked& asked, Scale own);

/// ?at=, ?without_spot= and ?without_stint=. Fails: bad_input where one is none, or names nothing
/// of the burn.
Result<CallAsked> asked_call(const Asked& asked, const Burn& burn);

/// A query parameter that is a moment. Fails: bad_input.
Result<std::optional<db::Stamp>> asked_stamp(const Asked& asked, std::string_view name);

/// A query parameter that is a number. Fails: bad_input.
Result<std::optional<double>> asked_number(const Asked& asked, std::string_view name);

}  // namespace pitwright::resources
