#include "call/lids.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "series/robust.h"
#include "series/smooth.h"

namespace pitwright::call {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

constexpr double unknown_open_s = 360.0;  ///< a mark without an end: shut at the lowest level
constexpr double shortest_recovery_s = 60.0;
constexpr double longest_recovery_s = 1800.0;
constexpr double recovery_per_open = 5.0;  ///< with 3 min, the longest recovery of an opening
constexpr double recovery_base_s = 180.0;
constexpr double base_s = 600.0;  ///< before the opening, gives the height to return to
constexpr double shortest_tau_s = 15.0, tau_ratio = 1.35;
constexpr int taus = 15;  ///< up to 17 min

constexpr double coarse_step_s = 15.0;
constexpr double fall_s = 60.0;  ///< a lid's fall is told over this
constexpr double smallest_fall_k = 6.0;
constexpr double usual_falls = 2.2;     ///< times the fall that 19 of 20 moments stay below
constexpr double together_share = 0.6;  ///< of the spots
constexpr double back_share = 0.6;      ///< of the fall regained
constexpr double back_s = 900.0;
constexpr double change_quiet_before_s = 90.0, change_quiet_after_s = 240.0;
constexpr double mark_quiet_s = 300.0;
constexpr double habit_s = 2700.0;  ///< more than one in this time is the fire's habit

double median_of(std::span<const double> y, int from, int to) {
  from = std::clamp(from, 0, static_cast<int>(y.size()));
  to = std::clamp(to, from, static_cast<int>(y.size()));
  return series::median(
      y.subspan(static_cast<std::size_t>(from), static_cast<std::size_t>(to - from)));
}

/// Fit of y = base + rest - depth exp(-(t - until) / tau) at one tau; rest is held near zero.
struct Recovery {
  double tau_s = shortest_tau_s, depth_k = 0.0, squares = INFINITY;
};

Recovery recovery_at(std::span<const double> y, const Seen& seen, double base, double until_s,
                     double to_s, double tau_s) {
  double ee = 0.0, e1 = 0.0, n = 0.0, ey = 0.0, sy = 0.0, yy = 0.0;
  for (int j = seen.index_of(until_s); j < seen.index_of(to_s); ++j) {
    const double v = y[static_cast<std::size_t>(j)] - base;
    if (!std::isfinite(v)) continue;
    const double e = -std::exp(-(seen.time_of(j) - until_s) / tau_s);
    ee += e * e, e1 += e, n += 1.0, ey += e * v, sy += v, yy += v * v;
  }
  if (n < 3.0) return {};
  const double held = n + 0.3 * n;  // the base is known too: three parts in ten of the weight
  const double det = ee * held - e1 * e1;
  if (!(det > 1e-12)) return {};
  const double depth = (ey * held - sy * e1) / det;
  const double rest = (ee * sy - e1 * ey) / det;
  const double squares = yy - depth * ey - rest * sy;
  return {tau_s, std::max(0.0, depth), std::max(0.0, squares)};
}

/// Seconds from `until_s` to within a tenth of matters, and the level's depth.
std::pair<double, double> recovery_of(const Burn& burn, const Seen& seen, double from_s,
                                      double until_s) {
  double to_s = std::min(until_s + longest_recovery_s, seen.end_s());
  for (const auto& change : changes_of(burn)) {
    if (change.at_s > until_s) to_s = std::min(to_s, change.at_s);
  }
  const auto base_of = [&](std::span<const double> y) {
    return median_of(y, seen.index_of(from_s - base_s), seen.index_of(from_s - seen.step_s));
  };
  const double base = base_of(seen.level);
  Return best{shortest_tau_s, 0.0};
  if (std::isfinite(base)) best = return_of(seen.level, seen, base, until_s, to_s);
  double deepest = best.depth_k;
  for (const auto& spot : seen.spots) {
    const double spot_base = base_of(spot);
    if (!std::isfinite(spot_base)) continue;
    deepest =
        std::max(deepest, recovery_at(spot, seen, spot_base, until_s, to_s, best.tau_s).depth_k);
  }
  const double goal = 0.1 * burn.matters.kelvins();
  const double modelled = deepest > goal ? best.tau_s * std::log(deepest / goal) : 0.0;
  const double most =
      std::min(longest_recovery_s, recovery_base_s + recovery_per_open * (until_s - from_s));
  return {std::clamp(modelled, shortest_recovery_s, most), best.depth_k};
}

double lowest_moment(const Seen& seen, double from_s, double to_s) {
  double best = INFINITY, at = from_s;
  for (int j = seen.index_of(from_s); j < seen.index_of(to_s); ++j) {
    const double v = seen.level[static_cast<std::size_t>(j)];
    if (!(v < best)) continue;
    best = v;
    at = seen.time_of(j);
  }
  return at;
}

/// The spots on moments of about 15 s and how far each falls over the next minute.
struct Falls {
  double step_s;
  int ahead;
  std::vector<std::vector<double>> spots;
  std::vector<double> typical;  ///< median over the spots
};

Falls falls_of(const Seen& seen) {
  const int every = std::max(1, static_cast<int>(std::lround(coarse_step_s / seen.step_s)));
  Falls out{seen.step_s * every, 1, {}, {}};
  out.ahead = std::max(1, static_cast<int>(std::lround(fall_s / out.step_s)));
  for (const auto& spot : seen.spots) {
    const auto y = series::thinned(spot, every);
    std::vector<double> fall(y.size(), nan);
    for (std::size_t t = 0; t + static_cast<std::size_t>(out.ahead) < y.size(); ++t) {
      fall[t] = y[t] - y[t + static_cast<std::size_t>(out.ahead)];
    }
    out.spots.push_back(std::move(fall));
  }
  const std::size_t n = out.spots.empty() ? 0 : out.spots.front().size();
  std::vector<double> here(out.spots.size());
  for (std::size_t t = 0; t < n; ++t) {
    for (std::size_t i = 0; i < here.size(); ++i) here[i] = out.spots[i][t];
    out.typical.push_back(series::median(here));
  }
  return out;
}

double quantile95(std::span<const double> values) {
  std::vector<double> kept;
  std::ranges::copy_if(values, std::back_inserter(kept), [](double v) { return std::isfinite(v); });
  if (kept.empty()) return 0.0;
  const auto place = kept.begin() + static_cast<std::ptrdiff_t>(kept.size() * 95 / 100);
  std::ranges::nth_element(kept, place);
  return *place;
}

bool falls_together(const Falls& falls, std::size_t t) {
  int good = 0, falling = 0;
  for (const auto& spot : falls.spots) {
    if (!std::isfinite(spot[t])) continue;
    ++good;
    falling += spot[t] > 0.5 * falls.typical[t] ? 1 : 0;
  }
  return good > 0 && falling >= together_share * good;
}

/// Near a change of setting or a marked opening, or outside all stints, nothing is suggested.
bool is_quiet(const Burn& burn, double t) {
  bool is_inside = false;
  for (const auto& stint : burn.stints) {
    is_inside = is_inside || (t >= stint.from_s && t < stint.to_s);
    for (const double edge : {stint.from_s, stint.to_s}) {
      if (t > edge - change_quiet_before_s && t < edge + change_quiet_after_s) return true;
    }
  }
  for (const auto& event : burn.events) {
    if (event.kind != EventKind::lid && event.kind != EventKind::moved) continue;
    if (t > event.at_s - mark_quiet_s && t < event.until_s.value_or(event.at_s) + mark_quiet_s) {
      return true;
    }
  }
  return !is_inside;
}

/// True where the level came back after its fall, or could not have had the time yet.
bool comes_back(const Seen& seen, double from_s, double low_s) {
  const double before = median_of(seen.level, seen.index_of(from_s - 120.0), seen.index_of(from_s));
  const double low = median_of(seen.level, seen.index_of(low_s - seen.step_s),
                               seen.index_of(low_s + 1.5 * seen.step_s) + 1);
  double highest = low;
  for (int j = seen.index_of(low_s); j < seen.index_of(low_s + back_s); ++j) {
    const double v = seen.level[static_cast<std::size_t>(j)];
    if (std::isfinite(v)) highest = std::max(highest, v);
  }
  return highest - low > back_share * (before - low) || low_s + 0.3 * back_s > seen.end_s();
}

std::vector<Opening> unmarked_openings(const Burn& burn, const Seen& seen) {
  std::vector<Opening> out;
  if (seen.spots.empty()) return out;
  const Falls falls = falls_of(seen);
  const double bar = std::max(smallest_fall_k, usual_falls * quantile95(falls.typical));
  for (std::size_t t = 0; t < falls.typical.size(); ++t) {
    if (!(falls.typical[t] > bar) || !falls_together(falls, t)) continue;
    const double at_s = seen.start_s + (static_cast<double>(t) + 1.0) * falls.step_s;
    if (is_quiet(burn, at_s)) continue;
    const double low_s = lowest_moment(seen, at_s, at_s + unknown_open_s);
    if (!comes_back(seen, at_s, low_s)) continue;
    const auto [recovery_s, depth] = recovery_of(burn, seen, at_s, low_s);
    out.push_back({at_s, low_s, low_s + recovery_s, std::max(depth, falls.typical[t]), false});
    const double skip = (out.back().clear_s - at_s) / falls.step_s;
    t += static_cast<std::size_t>(std::max(1.0, skip));
  }
  if (static_cast<double>(out.size()) > 1.0 + (seen.end_s() - seen.start_s) / habit_s) out.clear();
  return out;
}

}  // namespace

Return return_of(std::span<const double> y, const Seen& seen, double base, double until_s,
                 double to_s) {
  Recovery best;
  for (int k = 0; k < taus; ++k) {
    const double tau_s = shortest_tau_s * std::pow(tau_ratio, k);
    const auto fit = recovery_at(y, seen, base, until_s, to_s, tau_s);
    if (fit.squares < best.squares) best = fit;
  }
  return {best.tau_s, best.depth_k};
}

std::vector<Opening> openings_of(const Burn& burn, const Seen& seen) {
  auto out = unmarked_openings(burn, seen);
  for (const auto& event : burn.events) {
    if (event.kind != EventKind::lid || event.at_s >= seen.end_s()) continue;
    const bool is_shut = event.until_s && *event.until_s <= seen.end_s();
    const double until_s =
        is_shut
            ? std::max(*event.until_s, event.at_s)
            : (event.until_s ? seen.end_s()
                             : lowest_moment(seen, event.at_s,
                                             std::min(event.at_s + unknown_open_s, seen.end_s())));
    const auto [recovery_s, depth] = recovery_of(burn, seen, event.at_s, until_s);
    out.push_back({event.at_s, until_s, until_s + recovery_s, depth, true});
  }
  std::ranges::sort(out, {}, &Opening::from_s);
  return out;
}

}  // namespace pitwright::call
