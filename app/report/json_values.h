#pragma once

#include <optional>
#include <string>

#include <nlohmann/json_fwd.hpp>

namespace pitwright::report {

/// A number with at most so many decimals; null for what is no number; never -0.
nlohmann::ordered_json json_number(std::optional<double> value, int decimals = 3);

/// A name fit for JSON (see clean_name); null where it is empty.
nlohmann::ordered_json json_name(const std::string& name);

}  // namespace pitwright::report
