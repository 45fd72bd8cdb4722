#pragma once

#include <optional>
#include <string>
#include <vector>

#include "call/blocks.h"

namespace pitwright::call {

/// What of the weather went with the settings.
struct WeatherMove {
  std::string channel;  ///< "outside", "wind", "gust" or "rain"
  double amount;        ///< second setting less first: K, km/h, or share of the counted time
};

/// Did the weather change with the setting rather than beside it? For outside air and wind: the
/// means over the counted blocks of the two settings differ by a material amount (8 degF, 5 mph:
/// common practice, no source) and by more than 0.6 of the range that the block means of the whole
/// burn show; an order with repeats that straddles a front stays below that. For marked gusts and
/// rain: they cover half of one setting's counted time and a tenth or less of the other's.
std::optional<WeatherMove> weather_against_order(const Burn& burn, const Panel& panel,
                                                 const std::vector<Block>& blocks, int from,
                                                 int to);

/// A change of the weather that the order of the settings sets off.
struct Front {
  std::string channel;      ///< "outside" or "wind"
  double at_s;              ///< the moment between two counted blocks at which it moved most
  double amount;            ///< mean of the hour after less mean of the hour before: K, km/h
  double between_settings;  ///< most of it that is left between the means of two settings
};

/// The largest change of outside air, else of wind, from one hour to the next, where it is material
/// and weather_against_order has nothing to say of any two settings.
std::optional<Front> front_set_off(const Burn& burn, const Panel& panel,
                                   const std::vector<Block>& blocks, int settings);

}  // namespace pitwright::call
