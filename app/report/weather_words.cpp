#include "report/weather_words.h"

#include <cmath>
#include <string_view>

#include <fmt/format.h>

#include "report/degrees.h"
#include "report/text_width.h"

namespace pitwright::report {
namespace {

using call::Trouble;

/// Less of a front between the settings than this share of it is nothing to speak of.
constexpr double small_rest = 0.15;

/// "17°", or in the wind's unit.
std::string weather_size(std::string_view channel, double amount, Scale scale) {
  constexpr double km_in_mile = 1.609344;  // exact: the international mile
  if (channel != "wind") return size_text(amount, scale);
  const bool miles = scale == Scale::fahrenheit;
  return fmt::format("{:.0f} {}", std::abs(amount) / (miles ? km_in_mile : 1.0),
                     miles ? "mph" : "km/h");
}

}  // namespace

std::string weather_reason(const Trouble& trouble, Scale scale) {
  const auto colon = trouble.where.find(": ");
  const auto what = trouble.where.substr(0, colon);
  const auto when = colon == std::string::npos
                        ? std::string("with the setting")
                        : "from " + clean_name(trouble.where.substr(colon + 2));
  const std::string_view went = trouble.amount < 0 ? "fell" : "rose";
  if (what == "outside") {
    return fmt::format("the outside air {} {} {}", went, size_text(trouble.amount, scale), when);
  }
  if (what == "wind") {
    return fmt::format("the wind {} {} {}", went, weather_size(what, trouble.amount, scale), when);
  }
  const auto share = fmt::format("{:.0f} % of the counted time", 100.0 * std::abs(trouble.amount));
  if (what == "gust")
    return fmt::format("gusts came and went with the setting, {} {}", share, when);
  if (what == "rain") return fmt::format("rain came and went with the setting, {} {}", share, when);
  return "the weather changed " + when;
}

std::string front_reason(const Trouble& trouble, Scale scale) {
  const auto told = fmt::format(
      "the {} {} {} during the burn", trouble.where == "wind" ? "wind" : "outside air",
      trouble.amount < 0 ? "fell" : "rose", weather_size(trouble.where, trouble.amount, scale));
  if (trouble.rest < small_rest * std::abs(trouble.amount))
    return told + "; the order of the settings balanced it, so it muddles nothing";
  return fmt::format(
      "{}; the order of the settings balanced it in part: {} is left between two of them", told,
      weather_size(trouble.where, trouble.rest, scale));
}

std::string front_mend(const Trouble& trouble) {
  return trouble.rest < small_rest * std::abs(trouble.amount)
             ? ""
             : "Two more stints in mirrored order would take that out";
}

}  // namespace pitwright::report
