#include "units/parse.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <span>
#include <string>
#include <utility>

#include <fast_float/fast_float.h>

namespace pitwright {
namespace {

std::string_view trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

struct Quantity {
  double number;
  std::string_view unit;  ///< what follows the number, trimmed; may be empty
};

/// Splits "36 in" after its number.
std::optional<Quantity> split_quantity(std::string_view text) {
  text = trimmed(text);
  const bool plus = text.starts_with('+');
  if (plus) text.remove_prefix(1);
  if (plus && text.starts_with('-')) return std::nullopt;
  double number = 0.0;
  const auto [end, error] = fast_float::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || !std::isfinite(number)) return std::nullopt;
  return Quantity{number, trimmed(text.substr(static_cast<std::size_t>(end - text.data())))};
}

std::string lowered(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(),
                         [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return out;
}

struct UnitFactor {
  std::string_view name;
  double factor;
};

std::optional<double> factor_of(std::string_view unit, std::span<const UnitFactor> known) {
  const auto name = lowered(unit);
  const auto found = std::ranges::find(known, name, &UnitFactor::name);
  if (found == known.end()) return std::nullopt;
  return found->factor;
}

Result<double> scaled(std::string_view text, std::span<const UnitFactor> known,
                      std::string_view example) {
  const auto quantity = split_quantity(text);
  const auto factor = quantity ? factor_of(quantity->unit, known) : std::nullopt;
  if (!factor) return fail(ErrorKind::bad_input, "'{}' is not {}", text, example);
  return quantity->number * *factor;
}

bool is_kelvin(std::string_view unit) {
  return unit == "K" || lowered(unit) == "kelvin";
}

/// "h:mm" or "h:mm:ss", without sign.
std::optional<double> clock_seconds(std::string_view text) {
  std::array<double, 3> parts{};
  std::size_t count = 0;
  while (count < parts.size()) {
    const auto colon = text.find(':');
    const auto piece = text.substr(0, colon);
    const auto number = parse_number(piece);
    if (!number || piece.find_first_not_of("0123456789.") != piece.npos) return std::nullopt;
    parts[count++] = *number;
    if (colon == text.npos) break;
    text.remove_prefix(colon + 1);
    if (count == parts.size()) return std::nullopt;
  }
  if (count < 2 || parts[1] >= 60.0 || parts[2] >= 60.0) return std::nullopt;
  return parts[0] * 3600.0 + parts[1] * 60.0 + parts[2];
}

constexpr std::array<UnitFactor, 15> time_units{{{"s", 1.0},
                                                 {"sec", 1.0},
                                                 {"second", 1.0},
                                                 {"seconds", 1.0},
                                                 {"min", 60.0},
                                                 {"minute", 60.0},
                                                 {"minutes", 60.0},
                                                 {"h", 3600.0},
                                                 {"hr", 3600.0},
                                                 {"hour", 3600.0},
                                                 {"hours", 3600.0},
                                                 {"ms", 0.001},
                                                 {"d", 86400.0},
                                                 {"day", 86400.0},
                                                 {"days", 86400.0}}};

/// "7 min 20 s": a sum of numbers, each with its unit.
std::optional<double> worded_seconds(std::string_view text) {
  double sum = 0.0;
  text = trimmed(text);
  if (text.empty()) return std::nullopt;
  while (!text.empty()) {
    const auto quantity = split_quantity(text);
    if (!quantity || quantity->number < 0.0) return std::nullopt;
    const auto end = quantity->unit.find_first_of("0123456789. ");
    const auto factor = factor_of(quantity->unit.substr(0, end), time_units);
    if (!factor) return std::nullopt;
    sum += quantity->number * *factor;
    text = end == quantity->unit.npos ? std::string_view{} : trimmed(quantity->unit.substr(end));
  }
  return sum;
}

}  // namespace

std::optional<double> parse_number(std::string_view text) {
  const auto quantity = split_quantity(text);
  if (!quantity || !quantity->unit.empty()) return std::nullopt;
  return quantity->number;
}

std::optional<Scale> parse_scale(std::string_view text) {
  auto name = lowered(trimmed(text));
  for (const std::string_view prefix : {"\xc2\xb0", "\xb0", "\xc2\xba", "degrees", "deg", "°"}) {
    if (name.starts_with(prefix))
      name = lowered(trimmed(std::string_view(name).substr(prefix.size())));
  }
  if (name == "f" || name == "fahrenheit") return Scale::fahrenheit;
  if (name == "c" || name == "celsius" || name == "centigrade") return Scale::celsius;
  return std::nullopt;
}

Result<Temperature> parse_temperature(std::string_view text, std::optional<Scale> bare) {
  const auto quantity = split_quantity(text);
  if (!quantity) {
    return fail(ErrorKind::bad_input, "'{}' is not a temperature such as \"275 F\"", text);
  }
  if (is_kelvin(quantity->unit)) return Temperature::from_celsius(quantity->number - 273.15);
  const auto scale = quantity->unit.empty() ? bare : parse_scale(quantity->unit);
  if (!scale) {
    return fail(ErrorKind::bad_input, "'{}' needs a temperature unit: F, C or K", text);
  }
  return Temperature::from(quantity->number, *scale);
}

Result<TemperatureDelta> parse_temperature_delta(std::string_view text, std::optional<Scale> bare) {
  const auto quantity = split_quantity(text);
  if (!quantity) {
    return fail(ErrorKind::bad_input, "'{}' is not a temperature difference such as \"10 F\"",
                text);
  }
  if (is_kelvin(quantity->unit)) return TemperatureDelta::from_kelvins(quantity->number);
  const auto scale = quantity->unit.empty() ? bare : parse_scale(quantity->unit);
  if (!scale) {
    return fail(ErrorKind::bad_input, "'{}' needs a temperature unit: F, C or K", text);
  }
  return TemperatureDelta::from(quantity->number, *scale);
}

Result<double> parse_length_m(std::string_view text) {
  static constexpr std::array<UnitFactor, 7> known{{{"in", 0.0254},
                                                    {"inch", 0.0254},
                                                    {"inches", 0.0254},
                                                    {"ft", 0.3048},
                                                    {"mm", 0.001},
                                                    {"cm", 0.01},
                                                    {"m", 1.0}}};
  return scaled(text, known, "a length such as \"36 in\" or \"90 cm\"");
}

Result<double> parse_mass_kg(std::string_view text) {
  // 1 lb = 0.45359237 kg exactly (international pound, 1959).
  static constexpr std::array<UnitFactor, 5> known{{{"lb", 0.45359237},
                                                    {"lbs", 0.45359237},
                                                    {"oz", 0.45359237 / 16.0},
                                                    {"kg", 1.0},
                                                    {"g", 0.001}}};
  return scaled(text, known, "a weight such as \"8.4 lb\" or \"3.8 kg\"");
}

Result<double> parse_pressure_pa(std::string_view text) {
  // Conventional millimetre and inch of mercury: 133.322387415 Pa and 25.4 of it.
  static constexpr std::array<UnitFactor, 6> known{{{"pa", 1.0},
                                                    {"hpa", 100.0},
                                                    {"mbar", 100.0},
                                                    {"kpa", 1000.0},
                                                    {"mmhg", 133.322387415},
                                                    {"inhg", 133.322387415 * 25.4}}};
  return scaled(text, known, "a pressure such as \"840 hPa\" or \"24.8 inHg\"");
}

Result<Seconds> parse_elapsed(std::string_view text) {
  auto rest = trimmed(text);
  const bool negative = rest.starts_with('-');
  if (negative || rest.starts_with('+')) rest = trimmed(rest.substr(1));
  const auto seconds = rest.contains(':') ? clock_seconds(rest) : worded_seconds(rest);
  if (!seconds) {
    return fail(
        ErrorKind::bad_input,
        "'{}' is not a length of time such as \"35 min\", \"0:35\" (h:mm) or \"7 min 20 s\"", text);
  }
  return Seconds(negative ? -*seconds : *seconds);
}

}  // namespace pitwright
