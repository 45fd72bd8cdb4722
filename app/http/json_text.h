#pragma once

#include <string_view>

#include <nlohmann/json_fwd.hpp>

namespace pitwright::http {

/// A body as JSON. Discarded (json.is_discarded()) where it is none, or nested deeper than any
/// document of the API: copying such a value would recurse as deep.
nlohmann::json parse_json(std::string_view text);

}  // namespace pitwright::http
