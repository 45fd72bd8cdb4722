#include "report/degrees.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/text_width.h"

namespace pitwright::report {
namespace {

/// Below this width of a range [degrees of the page] a tenth is still worth showing.
constexpr double narrow = 1.0;

Shown with_decimals(double value, double low, double high) {
  return {value, low, high, high - low < narrow ? 1 : 0, false};
}

double in_scale(double kelvins, Scale scale) {
  return TemperatureDelta::from_kelvins(kelvins).in(scale);
}

}  // namespace

Shown shown_reading(const call::Estimate& celsius, Scale scale) {
  const auto at = [scale](double c) { return Temperature::from_celsius(c).in(scale); };
  Shown shown = with_decimals(at(celsius.value), at(celsius.low), at(celsius.high));
  shown.decimals = 0;  // a thermometer in a pit does not support tenths of a reading
  return shown;
}

Shown shown_difference(const call::Estimate& kelvins, Scale scale) {
  return with_decimals(in_scale(kelvins.value, scale), in_scale(kelvins.low, scale),
                       in_scale(kelvins.high, scale));
}

Shown mirrored(const Shown& shown) {
  return {-shown.value, -shown.high, -shown.low, shown.decimals, shown.sign};
}

std::string scale_mark(Scale scale) {
  return scale == Scale::fahrenheit ? "°F" : "°C";
}

std::string number_text(double value, int decimals, bool sign) {
  const auto size = fmt::format("{:.{}f}", std::abs(value), decimals);
  const bool is_zero = size.find_first_not_of("0.") == std::string::npos;
  if (is_zero) return size;
  if (value < 0) return "−" + size;
  return sign ? "+" + size : size;
}

std::string size_text(double kelvins, Scale scale) {
  const double size = std::abs(in_scale(kelvins, scale));
  return size < 0.5 ? "under 1°" : number_text(size, 0, false) + "°";
}

std::string limit_text(double kelvins, Scale scale) {
  constexpr double dust = 1e-9;  // 10.000000000000002 is 10
  const double size = std::ceil(std::abs(in_scale(kelvins, scale)) - dust);
  return number_text(std::max(size, 1.0), 0, false) + "°";
}

std::string offset_text(double kelvins, Scale scale) {
  return number_text(in_scale(kelvins, scale), 0, true) + "°";
}

std::string range_text(const Shown& shown) {
  return number_text(shown.low, shown.decimals, false) + " to " +
         number_text(shown.high, shown.decimals, false);
}

std::string spoken_change(const call::Estimate& kelvins, Scale scale) {
  const auto shown = shown_difference(kelvins, scale);
  const auto size = shown.value < 0 ? mirrored(shown) : shown;
  return number_text(size.value, size.decimals, false) + "° (" + range_text(size) + ")";
}

std::string spoken_reading(const call::Estimate& celsius, Scale scale) {
  const auto shown = shown_reading(celsius, scale);
  return number_text(shown.value, shown.decimals, false) + "° (" + range_text(shown) + ")";
}

std::vector<std::string> aligned_ranges(const std::vector<std::optional<Shown>>& cells,
                                        const std::string& missing) {
  std::vector<std::string> values;
  int widest = 0;
  for (const auto& cell : cells) {
    values.push_back(cell ? number_text(cell->value, cell->decimals, cell->sign) : missing);
    widest = std::max(widest, display_width(values.back()));
  }
  for (std::size_t i = 0; i < cells.size(); ++i) {
    values[i] = padded_left(values[i], widest);
    if (cells[i]) values[i] += " (" + range_text(*cells[i]) + ")";
  }
  return values;
}

}  // namespace pitwright::report
