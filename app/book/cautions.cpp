#include <fmt/format.h>

#include "book/figures.h"

namespace pitwright::book {

std::vector<std::string> cautions(Scale scale) {
  const auto at = [scale](double fahrenheit) { return limit_text(fahrenheit, scale); };
  return {
      "This page shows rules, readings and margins. It judges no food. Your local code and your "
      "inspector decide; a person chooses the rule and signs.",
      "A probe may not sit in the coldest spot. Check in two or three places with a checked "
      "thermometer.",
      "The tables' times hold under conditions on humidity and come-up time that are unproven in "
      "an open pit; a dry surface lags behind.",
      fmt::format("One study did not reach the tables' target at 54.4 °C (130 °F) (McMinn and "
                  "others, Meat and Muscle Biology, 2018). Nothing below {} for meat and {} for "
                  "poultry earns credit.",
                  at(130), at(136)),
      "Toxins that staphylococci leave behind are not undone by heat: time in the zone counts even "
      "where a row is met.",
      fmt::format("Usual minimum internal temperatures (USDA FSIS chart): whole cuts {} and 3 min "
                  "of rest, ground meat {}, poultry {}, fish {}, leftovers {}.",
                  at(145), at(160), at(165), at(145), at(165)),
      "Time without readings earns no credit and counts against every limit. Only measured "
      "readings "
      "count, no model.",
      "Carbon monoxide: charcoal and wood outdoors only, never in a tent, garage, vehicle or "
      "house, "
      "not even with a window or fan; coals give it off until they are fully out.",
      "Fire: keep clear of walls and eaves; close lid and vents on a grease fire, no water; ash in "
      "a "
      "lidded metal can. Burns: metal, steam and fat; open a hot lid in steps.",
  };
}

}  // namespace pitwright::book
