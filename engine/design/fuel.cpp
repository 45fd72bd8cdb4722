#include "design/fuel.h"

#include "base/expects.h"

namespace pitwright::design {
namespace {

constexpr double kg_per_lb = 0.45359237;  // the international pound, exact
constexpr double reserve = 1.25;

/// Pounds an hour.
struct Rate {
  double low, high;
};

Rate rate_of(Fuel fuel, double set_f) {
  switch (fuel) {
    case Fuel::pellet:
      if (set_f < 237.5) return {0.5, 1.0};
      if (set_f < 325.0) return {1.0, 1.5};
      return {2.0, 3.0};
    case Fuel::charcoal:
      return {0.5, 1.5};
    case Fuel::wood:
      return {1.0, 1.5};
    case Fuel::gas:
      return {0.4, 0.8};
  }
  return {};
}

}  // namespace

FuelNeed fuel_need(Fuel fuel, std::optional<Temperature> set_point, double hours) {
  expects(hours >= 0.0);
  const auto rate = rate_of(fuel, set_point.value_or(degF(250)).fahrenheit());
  return {rate.low * hours * reserve * kg_per_lb, rate.high * hours * reserve * kg_per_lb};
}

}  // namespace pitwright::design
