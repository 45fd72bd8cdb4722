#include "documents/written_readings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "documents/rollcall_document.h"
#include "units/parse.h"

namespace pitwright::documents {
namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();

std::string unit_of(const Sensor& sensor) {
  return sensor.unit.empty() ? std::string("degrees") : sensor.unit;
}

std::optional<Written> reading_of(Reading& reading, const Value& value, const Sensor& sensor) {
  const auto* whole = std::get_if<std::int64_t>(&value.of);
  const auto* number = std::get_if<double>(&value.of);
  const auto* text = std::get_if<std::string>(&value.of);
  if (number != nullptr && std::isnan(*number)) return Written{missing, missing};
  if (sensor.celsius) {
    if (whole == nullptr && number == nullptr) {
      reading.complain(value.place, fmt::format("a reading in {} is a bare number, not {}",
                                                sensor.unit, kind_of(value)));
      return std::nullopt;
    }
    const double raw = whole != nullptr ? static_cast<double>(*whole) : *number;
    const auto celsius = sensor.celsius(raw);
    if (celsius) return Written{raw, *celsius};
    reading.complain(value.place, celsius.error().what);
    return std::nullopt;
  }
  if (whole == nullptr && number == nullptr && text == nullptr) {
    reading.complain(value.place, fmt::format("a reading is a temperature such as 33 or \"33 F\", "
                                              "or nan for a missed round, not {}",
                                              kind_of(value)));
    return std::nullopt;
  }
  const auto written = text != nullptr    ? *text
                       : whole != nullptr ? fmt::format("{}", *whole)
                                          : fmt::format("{}", *number);
  const auto temperature = parse_temperature(written, reading.unit);
  if (!temperature) {
    reading.complain(value.place, temperature.error().what);
    return std::nullopt;
  }
  return Written{temperature->in(*reading.unit), temperature->celsius()};
}

bool are_multiples(const std::vector<double>& numbers, double step) {
  constexpr double dust = 1e-6;
  return std::ranges::all_of(numbers, [step](double number) {
    const double turns = number / step;
    return !std::isfinite(number) || std::abs(turns - std::round(turns)) < dust;
  });
}

constexpr double least_step_k = 1e-6, largest_step_k = 20.0;

/// A step that makes sense, or the mistake told and one in its place.
double checked_step(TableReader& keys, bool is_positive, double step_k) {
  if (!is_positive) {
    keys.wrong("resolution", "'resolution' must be above zero");
  } else if (!(step_k <= largest_step_k)) {
    keys.wrong("resolution", "a 'resolution' of more than 20 C checks nothing");
  } else {
    return step_k;
  }
  return largest_step_k;
}

/// The decimal place that a meter's readings go down to.
double raw_step(const std::vector<double>& numbers) {
  constexpr std::array places{1.0, 0.1, 0.01, 0.001, 1e-4};
  for (const double place : places) {
    if (are_multiples(numbers, place)) return place;
  }
  return 1e-5;
}

}  // namespace

std::vector<Written> readings_of(Reading& reading, TableReader& keys, std::string_view key,
                                 const Sensor& sensor) {
  const auto* found = keys.value(key);
  std::vector<Written> out;
  if (found == nullptr || sensor.is_broken) return out;
  const auto* list = std::get_if<Array>(&found->of);
  if (list != nullptr && list->empty()) {
    keys.wrong(key, fmt::format("'{}' is an empty list; leave the key out instead", key));
    return out;
  }
  const Array one = list != nullptr ? Array{} : Array{*found};
  for (const auto& value : list != nullptr ? *list : one) {
    const auto written = reading_of(reading, value, sensor);
    if (!written) return {};
    constexpr double coldest_c = -60.0, hottest_c = 700.0;
    if (written->celsius < coldest_c || written->celsius > hottest_c) {
      reading.complain(value.place,
                       fmt::format("a reading of {:g} {} is {:.0f} C: no thermometer "
                                   "in ice, water or a pit shows that",
                                   written->number, unit_of(sensor), written->celsius));
      return {};
    }
    out.push_back(*written);
  }
  return out;
}

double resolution_of(TableReader& keys, const Sensor& sensor, Scale unit,
                     const std::vector<Written>& all, const std::string& name, Steps& steps) {
  std::vector<double> numbers, celsius;
  for (const auto& written : all) {
    if (!std::isfinite(written.number)) continue;
    numbers.push_back(written.number);
    celsius.push_back(written.celsius);
  }
  if (sensor.celsius) {
    const auto told = keys.number("resolution");
    const double step = told.value_or(std::min(sensor.usual_step, raw_step(numbers)));
    double coarsest_k = least_step_k;
    for (const double c : celsius) coarsest_k = std::max(coarsest_k, sensor.step_k(step, c));
    return checked_step(keys, step > 0.0, coarsest_k);
  }
  if (const auto told = keys.difference("resolution")) {
    return checked_step(keys, told->kelvins() > 0.0, std::max(least_step_k, told->kelvins()));
  }
  const double inferred = step_of(numbers);
  steps[inferred].push_back(name);
  return TemperatureDelta::from(inferred, unit).kelvins();
}

double step_of(const std::vector<double>& readings) {
  for (const double step : {1.0, 0.5, 0.2, 0.1, 0.05, 0.02}) {
    if (are_multiples(readings, step)) return step;
  }
  return 0.01;
}

}  // namespace pitwright::documents
