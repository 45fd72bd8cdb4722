#include "burns/channel_units.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

namespace pitwright::burns {
namespace {

using logs::ChannelUnit;

/// value in engine units = (logged - zero) x factor
struct Law {
  double zero = 0.0;
  double factor = 1.0;
};

std::optional<ChannelUnit> told_unit(const documents::LogSpec& spec) {
  if (!spec.hints.unit) return std::nullopt;
  if (*spec.hints.unit == "C") return ChannelUnit::celsius;
  if (*spec.hints.unit == "K") return ChannelUnit::kelvin;
  return ChannelUnit::fahrenheit;
}

bool is_scale(ChannelUnit unit) {
  return unit == ChannelUnit::celsius || unit == ChannelUnit::fahrenheit ||
         unit == ChannelUnit::kelvin;
}

std::optional<Law> temperature_law(ChannelUnit unit) {
  switch (unit) {
    case ChannelUnit::celsius:
      return Law{};
    case ChannelUnit::fahrenheit:
      return Law{32.0, 1.0 / 1.8};
    case ChannelUnit::kelvin:
      return Law{273.15, 1.0};
    default:
      return std::nullopt;
  }
}

std::optional<Law> wind_law(ChannelUnit unit) {
  switch (unit) {
    case ChannelUnit::kmh:
    case ChannelUnit::unknown:
    case ChannelUnit::other:
      return Law{};
    case ChannelUnit::mph:  // the international mile is 1.609344 km by definition
      return Law{0.0, 1.609344};
    case ChannelUnit::mps:
      return Law{0.0, 3.6};
    default:
      return std::nullopt;
  }
}

std::optional<Law> drive_law(ChannelUnit unit) {
  const bool plain =
      unit == ChannelUnit::percent || unit == ChannelUnit::unknown || unit == ChannelUnit::other;
  return plain ? std::optional(Law{}) : std::nullopt;
}

}  // namespace

std::string_view name_of(ChannelUnit unit) {
  switch (unit) {
    case ChannelUnit::celsius:
      return "C";
    case ChannelUnit::fahrenheit:
      return "F";
    case ChannelUnit::kelvin:
      return "K";
    case ChannelUnit::percent:
      return "%";
    case ChannelUnit::kmh:
      return "km/h";
    case ChannelUnit::mph:
      return "mph";
    case ChannelUnit::mps:
      return "m/s";
    case ChannelUnit::other:
      return "other";
    case ChannelUnit::unknown:
      return "unknown";
  }
  std::unreachable();
}

Result<Scale> scale_of(const documents::BurnDocument& document, std::span<const logs::Log> logs,
                       std::vector<std::string>& assumed) {
  if (document.unit) return *document.unit;
  int celsius = 0;
  int fahrenheit = 0;
  for (const auto& log : logs) {
    for (const auto& channel : log.channels) {
      if (channel.unit == ChannelUnit::celsius || channel.unit == ChannelUnit::kelvin) ++celsius;
      if (channel.unit == ChannelUnit::fahrenheit) ++fahrenheit;
    }
  }
  if ((celsius > 0) == (fahrenheit > 0)) {
    return fail(ErrorKind::bad_input, "{}:1:1: {}; write unit = \"F\" or unit = \"C\"",
                document.path.string(),
                celsius > 0 ? "the logs use both F and C" : "no log says whether it is in F or C");
  }
  assumed.push_back(fmt::format("unit is {}, as the logs say", celsius > 0 ? "C" : "F"));
  return celsius > 0 ? Scale::celsius : Scale::fahrenheit;
}

Result<bool> bring_to_engine_units(logs::LogChannel& channel, const documents::LogSpec& spec,
                                   Role role, Scale scale) {
  const auto told = told_unit(spec);
  if (told && channel.unit_from_file && is_scale(channel.unit) && channel.unit != *told) {
    return fail(
        ErrorKind::bad_input,
        "the file '{}' says that '{}' is in {}, but [[log]] says unit = \"{}\"; take one of "
        "them out",
        spec.file, channel.name, name_of(channel.unit), *spec.hints.unit);
  }
  const bool temperature = role != Role::wind && role != Role::drive;
  bool taken = false;
  if (temperature && channel.unit == ChannelUnit::unknown) {
    taken = !told;
    channel.unit =
        told.value_or(scale == Scale::celsius ? ChannelUnit::celsius : ChannelUnit::fahrenheit);
  }
  const auto law = temperature          ? temperature_law(channel.unit)
                   : role == Role::wind ? wind_law(channel.unit)
                                        : drive_law(channel.unit);
  if (!law) {
    return fail(ErrorKind::bad_input, "'{}' is in {}, which does not go with role \"{}\"",
                channel.name, name_of(channel.unit), pitwright::name_of(role));
  }
  if (law->zero != 0.0 || law->factor != 1.0) {
    for (double& value : channel.values) value = (value - law->zero) * law->factor;
  }
  return taken;
}

bool makes_no_sense(std::span<const double> celsius) {
  constexpr double coldest = -60.0;   // below any weather a fire is lit in
  constexpr double hottest = 1000.0;  // above any chamber that food goes into
  std::int64_t finite = 0;
  std::int64_t outside = 0;
  for (const double value : celsius) {
    if (!std::isfinite(value)) continue;
    ++finite;
    if (value < coldest || value > hottest) ++outside;
  }
  return finite > 0 && outside * 2 > finite;
}

}  // namespace pitwright::burns
