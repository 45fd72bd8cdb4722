#pragma once

#include <optional>

#include "design/habits.h"

namespace pitwright::design {

/// A span of fuel [kg], a quarter more than the rate asks for.
struct FuelNeed {
  double low_kg, high_kg;
};

/// What a fire eats in `hours`, by rule of thumb: rate of the fuel at the set point, times the
/// hours, plus a quarter. Wind and cold can add half of it again. Source: rates are common practice
/// as owners and sellers tell them, not measurements; gas from
///         memory. docs/methods/design.md has the table.
FuelNeed fuel_need(Fuel fuel, std::optional<Temperature> set_point, double hours);

}  // namespace pitwright::design
