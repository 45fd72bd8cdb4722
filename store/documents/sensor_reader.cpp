#include "documents/sensor_reader.h"

#include <array>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "thermometer/couples.h"
#include "thermometer/platinum.h"
#include "thermometer/thermistor.h"

namespace pitwright::documents {
namespace {

const std::vector<std::string> kinds{"K", "J", "N", "T", "Pt100", "Pt1000", "NTC"};

Sensor of_couple(TableReader& keys, const std::string& kind) {
  keys.require("cold_junction", "cold_junction = \"72 F\", the temperature of the meter");
  const auto cold = keys.temperature("cold_junction");
  const auto couple = thermometer::couple_named(kind).value_or(thermometer::Couple::K);
  const double cold_c = cold ? cold->celsius() : 0.0;
  Sensor out;
  if (cold && !thermometer::couple_celsius(couple, 0.0, cold_c)) {
    keys.wrong(
        "cold_junction",
        "'cold_junction' is the temperature of the meter's terminals, between -40 and 100 C");
    return out;
  }
  out.spec = {kind, fmt::format("type {} in mV, cold junction at {:.1f} C", kind, cold_c)};
  out.unit = "mV";
  out.usual_step = 0.01;
  out.celsius = [=](double mv) { return thermometer::couple_celsius(couple, mv, cold_c); };
  out.step_k = [=](double step, double c) { return step / thermometer::couple_slope(couple, c); };
  return out;
}

Sensor of_platinum(const std::string& kind) {
  const double at_zero = kind == "Pt100" ? 100.0 : 1000.0;
  Sensor out;
  out.spec = {kind, kind + " in ohm"};
  out.unit = "ohm";
  out.usual_step = 0.1;
  out.celsius = [=](double ohm) { return thermometer::platinum_celsius(ohm, at_zero); };
  out.step_k = [=](double step, double c) {
    return step / (thermometer::platinum_ohm(c + 0.5, at_zero) -
                   thermometer::platinum_ohm(c - 0.5, at_zero));
  };
  return out;
}

/// The three points of [[probe.curve]].
std::optional<thermometer::Thermistor> curve_of(Reading& reading, TableReader& keys) {
  const auto tables = keys.tables("curve");
  if (tables.size() != 3) {
    keys.wrong("curve", "'curve' expects three points, each as [[probe.curve]] with at and ohm");
    return std::nullopt;
  }
  std::array<thermometer::ThermistorPoint, 3> points{};
  for (std::size_t i = 0; i < points.size(); ++i) {
    TableReader point(reading, *tables[i], "[[probe.curve]]");
    point.require("at", "at = \"32 F\"");
    point.require("ohm", "ohm = 32650");
    const auto at = point.temperature("at");
    const auto ohm = point.number("ohm");
    point.finish();
    if (!at || !ohm) return std::nullopt;
    points[i] = {at->celsius(), *ohm};
  }
  const auto curve = thermometer::fit_thermistor(points);
  if (curve) return *curve;
  keys.wrong("curve", fmt::format("'curve': {}", curve.error().what));
  return std::nullopt;
}

Sensor of_thermistor(Reading& reading, TableReader& keys) {
  const auto at_25 = keys.number("ohm_at_25");
  const auto beta = keys.number("beta");
  const bool has_curve = keys.value("curve") != nullptr;
  std::optional<thermometer::Thermistor> curve;
  std::string how = "NTC in ohm, curve through three points";
  if (has_curve) {
    if (at_25 || beta) keys.wrong("curve", "give 'curve' or 'ohm_at_25' and 'beta', not both");
    curve = curve_of(reading, keys);
  } else if (at_25 && beta) {
    const auto made = thermometer::beta_thermistor(*at_25, *beta);
    if (made)
      curve = *made;
    else
      keys.wrong("ohm_at_25", made.error().what);
    how = fmt::format("NTC in ohm, {:g} ohm at 25 C, beta {:g} K", *at_25, *beta);
  } else {
    keys.wrong("type",
               "an NTC needs its curve: three points [[probe.curve]], or 'ohm_at_25' and 'beta'");
  }
  Sensor out;
  if (!curve) return out;
  out.spec = {"NTC", how};
  out.unit = "ohm";
  out.celsius = [c = *curve](double ohm) { return thermometer::thermistor_celsius(c, ohm); };
  out.step_k = [c = *curve](double step, double celsius) {
    const double ohm = thermometer::thermistor_ohm(c, celsius);
    const double toward = celsius > 0.0 ? -0.1 : 0.1;  // stays within the law's range
    const double next = thermometer::thermistor_ohm(c, celsius + toward);
    return 0.1 * step / std::abs(ohm - next);
  };
  return out;
}

}  // namespace

Sensor sensor_of(Reading& reading, TableReader& keys) {
  const auto kind = keys.word("type", kinds);
  // Known keys are those of every type, so that a stray one is told as such, not as unknown.
  const bool has_cold = keys.value("cold_junction") != nullptr;
  const bool has_curve = keys.value("curve") != nullptr || keys.value("ohm_at_25") != nullptr ||
                         keys.value("beta") != nullptr;
  if (!kind) {
    if (has_cold)
      keys.wrong("cold_junction", "'cold_junction' goes with type = \"K\" and its like");
    if (has_curve) keys.wrong("curve", "a curve goes with type = \"NTC\"");
    return {};
  }
  const auto& name = kinds[*kind];
  if (has_curve && name != "NTC") keys.wrong("curve", "a curve goes with type = \"NTC\"");
  auto sensor = name == "NTC"      ? of_thermistor(reading, keys)
                : name.size() == 1 ? of_couple(keys, name)
                                   : of_platinum(name);
  sensor.is_broken = !sensor.celsius;
  return sensor;
}

}  // namespace pitwright::documents
