#pragma once

#include <vector>

#include "design/habits.h"

namespace pitwright::design {

/// Orders of stints in which a steady drift cancels from every change, shortest first: there and
/// back (A B B A; A B C C B A); there, back and there again (A B B A A B); there and back twice,
/// the second time from another setting (A B B A B A A B; A B C C B A B C A A C B). Pre: settings
/// >= 2
std::vector<std::vector<int>> counterbalanced_orders(int settings);

/// How long a change is given before it counts [s]: until a change of twice what matters has come
/// to within a tenth of what matters.
///   lag ln(20), about three lags
double settling_s(const Habits& habits);

/// Shortest stint worth its place [s]: settling, then three whole swings and ten minutes at least;
/// twenty minutes where the fire has no steady cycle; from split to split where it is fed by hand.
/// Rounded up to five minutes.
double shortest_dwell_s(const Habits& habits);

}  // namespace pitwright::design
