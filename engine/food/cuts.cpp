#include "food/cuts.h"

#include <algorithm>
#include <array>

namespace pitwright::food {

namespace {

constexpr Composition per_100g(double water, double protein, double fat, double ash,
                               double carbohydrate = 0) {
  return {water, protein, fat, carbohydrate, 0, ash};
}

// data/food/usda_sr26_cuts.csv holds the same amounts with their source; a test compares them.
constexpr std::array table{
    Cut{"brisket", 13803, "beef brisket, whole, lean and fat", per_100g(61.08, 18.42, 19.06, .88),
        7.0, 4.2, 0.45, false},
    Cut{"brisket flat", 13805, "beef brisket, flat half, lean and fat",
        per_100g(59.07, 17.94, 22.18, .81), 7.5, 5.0, 0.6, false},
    Cut{"brisket point", 13807, "beef brisket, point half, lean and fat",
        per_100g(59.96, 17.65, 20.98, .82), 4.0, 3.0, 0.6, false},
    Cut{"lean brisket flat", 23596, "beef brisket, flat half, lean only",
        per_100g(73.76, 21.57, 3.84, 1.01), 7.5, 5.0, 0.6, false},
    Cut{"pork shoulder", 10070, "pork shoulder, whole, lean and fat",
        per_100g(64.02, 17.18, 17.99, .88), 2.2, 1.6, 0.8, true},
    Cut{"pork butt", 10080, "pork shoulder, blade, lean and fat",
        per_100g(69.18, 17.42, 12.36, .83), 2.0, 1.5, 0.9, true},
    Cut{"pork picnic", 10074, "pork shoulder, arm picnic, lean and fat",
        per_100g(68.34, 18.71, 12.51, .98), 2.4, 1.3, 0.7, true},
    Cut{"spareribs", 10088, "pork spareribs, lean and fat", per_100g(59.75, 15.47, 23.40, .67),
        14.0, 6.0, 0.8, true},
    Cut{"back ribs", 10192, "pork back ribs, lean and fat", per_100g(63.47, 19.07, 16.33, 1.03),
        13.0, 4.0, 0.8, true},
    Cut{"beef short ribs", 13147, "beef short ribs, lean and fat",
        per_100g(48.29, 14.40, 36.23, .68), 4.5, 2.5, 1.0, true},
    Cut{"eye of round", 23597, "beef eye of round roast, lean", per_100g(73.43, 22.60, 3.00, 1.08),
        2.6, 1.15, 0.85, false},
    Cut{"pork loin", 10020, "pork loin, whole, lean and fat", per_100g(66.92, 19.74, 12.58, .96),
        3.5, 1.3, 1.0, false},
    Cut{"pork tenderloin", 10218, "pork tenderloin", per_100g(74.97, 20.65, 3.53, 1.01), 6.0, 1.3,
        0.5, false},
    Cut{"pork belly", 10005, "pork belly", per_100g(36.74, 9.34, 53.01, .49), 8.0, 6.0, 1.0, false},
    Cut{"chicken breast", 5057, "chicken breast, meat and skin", per_100g(69.46, 20.85, 9.25, 1.01),
        4.5, 2.5, 0.4, false},
    Cut{"chicken thigh", 5091, "chicken thigh, meat and skin",
        per_100g(66.47, 16.52, 16.61, .81, .25), 3.5, 2.5, 0.8, true},
    Cut{"turkey", 5165, "turkey, whole, meat and skin", per_100g(72.69, 21.64, 5.64, .98), 1.6, 1.2,
        0.8, true},
    Cut{"turkey breast", 5219, "turkey breast, meat only", per_100g(74.89, 23.66, 1.48, 1.04), 2.2,
        1.5, 0.6, false},
    Cut{"turkey thigh", 5717, "turkey thigh, meat only", per_100g(75.62, 20.60, 3.69, 1.03), 2.5,
        1.6, 0.7, true},
    Cut{"ground beef", 23572, "ground beef, 80 % lean", per_100g(61.94, 17.17, 20.00, .84), 2.0,
        1.5, 1.0, false},
};

}  // namespace

std::span<const Cut> cuts() {
  return table;
}

Result<Cut> find_cut(std::string_view name) {
  const auto found = std::ranges::find(table, name, &Cut::name);
  if (found != table.end()) return *found;
  return fail(ErrorKind::not_found,
              "'{}' is not a cut known here; known are for example {}, {} and {}", name,
              table[0].name, table[4].name, table[16].name);
}

}  // namespace pitwright::food
