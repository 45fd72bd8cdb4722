#include "call/recovery.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <span>

#include "series/robust.h"

namespace pitwright::call {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

constexpr double within_share = 0.3;  ///< of *matters*: back
constexpr double longest_base_s = 1200.0, least_base_s = 300.0;
constexpr double after_s = 900.0, least_after_s = 300.0;  ///< looked at once the air is back
constexpr double smooth_s = 60.0;
constexpr double stays_s = 300.0, least_stay_s = 120.0;
constexpr double slow_later_s = 120.0;  ///< slow: back at least so much later than the level
constexpr double slow_sds = 3.0;        ///< of the minutes before the lid
constexpr double beside_share = 0.5;    ///< of the bar: slow where another spot is
constexpr double best_share = 1.0 / 3;  ///< of the spots: those that came back best

/// What is compared with what: before the opening, and from shutting to the end of the setting.
struct Reach {
  double base_from_s, base_to_s, until_s, clear_s, to_s;
};

std::optional<std::size_t> stint_at(const Burn& burn, double t) {
  for (std::size_t k = 0; k < burn.stints.size(); ++k)
    if (burn.stints[k].from_s <= t && t < burn.stints[k].to_s) return k;
  return std::nullopt;
}

std::optional<Reach> reach_of(const Burn& burn, const Seen& seen,
                              const std::vector<Opening>& openings, std::size_t which,
                              const std::vector<StintCall>& stints) {
  const auto& lid = openings[which];
  const auto here = stint_at(burn, lid.from_s);
  if (!here) return std::nullopt;
  std::size_t first = *here, last = *here;
  while (carries_on(burn, first)) --first;
  while (last + 1 < burn.stints.size() && carries_on(burn, last + 1)) ++last;
  Reach reach{INFINITY, lid.from_s - seen.step_s, lid.until_s, lid.clear_s,
              std::min(burn.stints[last].to_s, seen.end_s())};
  for (std::size_t k = first; k <= *here && k < stints.size(); ++k)
    if (stints[k].counted_from_s)
      reach.base_from_s = std::min(reach.base_from_s, *stints[k].counted_from_s);
  reach.base_from_s = std::max(reach.base_from_s, lid.from_s - longest_base_s);
  for (std::size_t k = 0; k < openings.size(); ++k) {
    if (k < which) reach.base_from_s = std::max(reach.base_from_s, openings[k].clear_s);
    if (k > which) reach.to_s = std::min(reach.to_s, openings[k].from_s);
  }
  if (reach.base_to_s - reach.base_from_s < least_base_s) return std::nullopt;
  return reach;
}

/// Mean of the good values of y in [from, to); NaN where there is none.
double mean_of(std::span<const double> y, const Seen& seen, double from_s, double to_s) {
  double sum = 0.0;
  int n = 0;
  for (int j = seen.index_of(from_s); j < seen.index_of(to_s); ++j) {
    const double v = y[static_cast<std::size_t>(j)];
    if (!std::isfinite(v)) continue;
    sum += v;
    ++n;
  }
  return n > 0 ? sum / n : nan;
}

/// Every spot less where it stood before the opening.
std::vector<std::vector<double>> departures_of(const Seen& seen, const Reach& reach) {
  std::vector<std::vector<double>> out;
  for (const auto& spot : seen.spots) {
    const double base = mean_of(spot, seen, reach.base_from_s, reach.base_to_s);
    out.emplace_back(spot.begin(), spot.end());
    for (double& v : out.back()) v -= base;
  }
  return out;
}

/// The mean over time of the departures of the third of the spots that came back best.
std::vector<double> best_of(const std::vector<std::vector<double>>& departures, const Seen& seen,
                            double from_s, double to_s) {
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t i = 0; i < departures.size(); ++i) {
    const double back = mean_of(departures[i], seen, from_s, to_s);
    if (std::isfinite(back)) order.emplace_back(-back, i);
  }
  std::ranges::sort(order);
  const auto count =
      static_cast<std::size_t>(std::ceil(best_share * static_cast<double>(order.size()) - 1e-9));
  std::vector<double> best(static_cast<std::size_t>(seen.n), nan);
  for (std::size_t j = 0; j < best.size(); ++j) {
    double sum = 0.0;
    int n = 0;
    for (std::size_t k = 0; k < count; ++k) {
      const double v = departures[order[k].second][j];
      if (!std::isfinite(v)) continue;
      sum += v;
      ++n;
    }
    if (n > 0) best[j] = sum / n;
  }
  return best;
}

/// Seconds after shutting from which the shortfall stays within the bar; empty where it never does.
std::optional<double> back_after(std::span<const double> lags, const Seen& seen, const Reach& reach,
                                 const Return& of_best, double within_k) {
  const auto is_short = [&](double t) {
    const double lag = mean_of(lags, seen, std::max(reach.until_s, t - 0.5 * smooth_s),
                               std::min(reach.to_s, t + 0.5 * smooth_s));
    return of_best.depth_k * std::exp(-(t - reach.until_s) / of_best.tau_s) + lag > within_k;
  };
  double back_s = reach.until_s;
  for (int j = seen.index_of(reach.until_s); j < seen.index_of(reach.to_s); ++j) {
    const double t = seen.time_of(j);
    if (is_short(t)) back_s = t + seen.step_s;
    if (t - back_s >= stays_s) return back_s - reach.until_s;
  }
  if (reach.to_s - back_s < least_stay_s) return std::nullopt;
  return back_s - reach.until_s;
}

/// Scatter of the minutes before the opening [K].
double scatter_before(std::span<const double> lags, const Seen& seen, const Reach& reach) {
  std::vector<double> minutes;
  for (double t = reach.base_from_s; t + smooth_s <= reach.base_to_s; t += smooth_s)
    minutes.push_back(mean_of(lags, seen, t, t + smooth_s));
  return series::robust_sd(minutes);
}

void fill_spots(const Seen& seen, const Reach& reach, const Swing& swing, LidCall& lid) {
  const double after_to_s = std::min(reach.clear_s + after_s, reach.to_s);
  const bool is_told = after_to_s - reach.clear_s >= least_after_s;
  const auto departures = departures_of(seen, reach);
  const auto best = best_of(departures, seen, is_told ? reach.clear_s : reach.until_s, after_to_s);
  const auto of_best = return_of(best, seen, 0.0, reach.until_s, reach.to_s);
  const double first_to_s =
      std::min(reach.clear_s + std::max(least_after_s, swing.period_s.value_or(0.0)), reach.to_s);
  std::vector<double> first_k(departures.size(), 0.0);
  std::vector<char> is_sure(departures.size(), 0);
  for (std::size_t i = 0; i < departures.size(); ++i) {
    std::vector<double> lags(best.size());
    for (std::size_t j = 0; j < lags.size(); ++j) lags[j] = best[j] - departures[i][j];
    SpotRecovery spot{static_cast<int>(i), std::nullopt, nan, false};
    if (!std::isfinite(mean_of(lags, seen, reach.until_s, after_to_s))) {
      lid.spots.push_back(spot);  // not read before or after
      continue;
    }
    spot.back_s = back_after(lags, seen, reach, of_best, lid.within_k);
    if (is_told) spot.short_k = mean_of(lags, seen, reach.clear_s, after_to_s);
    first_k[i] = mean_of(lags, seen, reach.clear_s, first_to_s);
    is_sure[i] = is_told && first_k[i] > slow_sds * scatter_before(lags, seen, reach) ? 1 : 0;
    const bool is_late =
        !spot.back_s || reach.until_s + *spot.back_s > reach.clear_s + slow_later_s;
    spot.is_slow = is_sure[i] != 0 && is_late && first_k[i] > lid.within_k;
    lid.spots.push_back(spot);
  }
  if (slow_spots(lid).empty()) return;
  for (std::size_t i = 0; i < lid.spots.size(); ++i)
    lid.spots[i].is_slow =
        lid.spots[i].is_slow || (is_sure[i] != 0 && first_k[i] > beside_share * lid.within_k);
}

}  // namespace

std::vector<LidCall> recoveries_of(const Burn& burn, const Seen& seen,
                                   const std::vector<Opening>& openings,
                                   const std::vector<StintCall>& stints, const Swing& swing) {
  std::vector<LidCall> out;
  for (std::size_t k = 0; k < openings.size(); ++k) {
    const auto& one = openings[k];
    LidCall lid{one.from_s,  one.until_s,   one.clear_s,  one.clear_s,
                one.depth_k, one.is_marked, std::nullopt, within_share * burn.matters.kelvins(),
                {}};
    if (const auto stint = stint_at(burn, one.from_s)) lid.stint = static_cast<int>(*stint);
    if (const auto reach = reach_of(burn, seen, openings, k, stints)) {
      fill_spots(seen, *reach, swing, lid);
      lid.seen_to_s = reach->to_s;
    }
    out.push_back(std::move(lid));
  }
  return out;
}

std::vector<int> slow_spots(const LidCall& lid) {
  std::vector<int> out;
  for (const auto& spot : lid.spots)
    if (spot.is_slow) out.push_back(spot.spot);
  return out;
}

}  // namespace pitwright::call
