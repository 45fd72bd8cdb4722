#include "burns/guess_role.h"

#include <array>
#include <span>
#include <string>

#include "logs/unit_words.h"
#include "logs/words.h"

namespace pitwright::burns {
namespace {

using Words = std::span<const std::string_view>;

constexpr std::array<std::string_view, 4> set_words{"set", "setpoint", "target", "goal"};
constexpr std::array<std::string_view, 5> outside_words{"outside", "ambient", "weather", "outdoor",
                                                        "outdoors"};
constexpr std::array<std::string_view, 2> wind_words{"wind", "windspeed"};
constexpr std::array<std::string_view, 8> drive_words{"fan",    "blower", "feeder", "auger",
                                                      "heater", "duty",   "drive",  "output"};
constexpr std::array<std::string_view, 18> food_words{
    "food", "meat",    "core",   "pork", "beef", "brisket", "butt",  "shoulder", "rib",
    "ribs", "chicken", "turkey", "ham",  "lamb", "fish",    "roast", "loaf",     "bread"};
constexpr std::array<std::string_view, 5> dial_words{"dial", "pit", "dome", "lid", "display"};

bool has(std::string_view name, Words known) {
  return logs::any_of_words(logs::words_of(name), known);
}

bool is_speed(logs::ChannelUnit unit) {
  return unit == logs::ChannelUnit::kmh || unit == logs::ChannelUnit::mph ||
         unit == logs::ChannelUnit::mps;
}

}  // namespace

std::optional<Role> guessed_role(std::string_view name, logs::ChannelUnit unit) {
  using logs::ChannelUnit;
  if (is_speed(unit)) return Role::wind;
  if (unit == ChannelUnit::percent) {
    return has(name, drive_words) ? std::optional(Role::drive) : std::nullopt;
  }
  if (unit == ChannelUnit::other) return std::nullopt;
  const bool temperature = unit != ChannelUnit::unknown;
  if (has(name, wind_words) && !temperature) return Role::wind;
  if (has(name, drive_words) && !temperature) return Role::drive;
  if (!temperature && logs::names_no_temperature(name)) return std::nullopt;
  if (has(name, set_words)) return Role::set;
  if (has(name, outside_words)) return Role::outside;
  if (has(name, food_words)) return Role::food;
  if (has(name, dial_words)) return Role::dial;
  return Role::air;
}

}  // namespace pitwright::burns
