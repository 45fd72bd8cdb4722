#pragma once

#include <optional>

#include "http/body.h"
#include "units/temperature.h"

namespace pitwright::resources {

/// The key "set_point": "275 F". What is none becomes the body's mistake.
std::optional<Temperature> read_set_point(http::Body& body);

/// The key "matters": "10 F", above nothing. What is none becomes the body's mistake.
std::optional<TemperatureDelta> read_matters(http::Body& body);

}  // namespace pitwright::resources
