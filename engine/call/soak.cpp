#include "call/soak.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "call/warmup.h"
#include "series/robust.h"
#include "series/smooth.h"

namespace pitwright::call {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

constexpr double least_wait_s = 1200.0;  ///< after first reaching heat; common practice, no source
constexpr double wanted_chance = 0.9;
constexpr double bar_share = 0.25;     ///< of *matters*
constexpr double cold_start_k = 25.0;  ///< a log that starts this far below its level is cold
constexpr double near_heat_k = 15.0;   ///< this far below it the pit has reached heat
/// Before the first stint: a pit that reads less is not lit, or only just; common practice, no
/// source. Air in a closed steel box in the sun stays below it.
constexpr double unlit_below_c = 60.0;
constexpr double most_blocks = 60.0;
constexpr double shortest_block_s = 120.0;
constexpr std::size_t fewest_blocks = 8;
constexpr double search_step_s = 60.0, search_longest_s = 6.0 * 3600.0;
constexpr double level_slope_k_h = 2.0, spot_slope_k_h = 0.7;
constexpr double default_stint_s = 2400.0;
constexpr double smooth_s = 120.0;
constexpr double unseen_tau_s = 1800.0;  ///< where too little was seen for a fit
/// A log that starts hot and short of soaked: its air first finds its way to the walls, which is no
/// part of their approach. After this many lags 86 % of that is done.
constexpr double skipped_lags = 2.0;

// Odds for a warm-up inside the log before looking at its shape: even where it starts cold, one to
// ten where it starts hot, and lower for a spot on its own.
constexpr double level_odds_cold = 1.0, level_odds_hot = 0.1;
/// Where a log starts hot, a warm-up is spoken of only when it is likelier than not.
constexpr double least_odds_hot = 1.0;
constexpr double spot_odds_cold = 0.25, spot_odds_hot = 0.02;

struct Start {
  bool is_cold;
  double heat_at_s;  ///< when the pit first reached heat
};

double last_owed_s(const Burn& burn, const Seen& seen) {
  return burn.stints.empty() ? seen.end_s() : std::min(seen.end_s(), burn.stints.back().to_s);
}

/// A pit in which no stint has begun: what it has reached so far stands in for its heat.
Start start_before_stints(const Seen& seen, const std::vector<double>& level) {
  double first = nan, last = nan;
  for (const double v : level) {
    if (!std::isfinite(v)) continue;
    if (!std::isfinite(first)) first = v;
    last = v;
  }
  const double rise = last - first;
  if (!std::isfinite(rise) || last < unlit_below_c) return {true, seen.end_s()};
  if (rise < cold_start_k) return {false, seen.start_s};
  const double near = last - std::max(near_heat_k, 0.1 * rise);
  for (std::size_t j = 0; j < level.size(); ++j) {
    if (level[j] > near) return {true, seen.time_of(static_cast<int>(j))};
  }
  return {true, seen.end_s()};
}

Start start_of(const Burn& burn, const Seen& seen) {
  const int half = std::max(1, static_cast<int>(smooth_s / 2.0 / seen.step_s));
  const auto level = series::running_mean(seen.level, half);
  if (!burn.stints.empty() && burn.stints.front().from_s >= seen.end_s())
    return start_before_stints(seen, level);
  const double from_s = burn.stints.empty() ? seen.start_s : burn.stints.front().from_s;
  const auto a = static_cast<std::size_t>(seen.index_of(from_s));
  const auto b = std::max(a, static_cast<std::size_t>(seen.index_of(last_owed_s(burn, seen))));
  const double hot = series::median(std::span(level).subspan(a, b - a));
  const auto first = std::ranges::find_if(level, [](double v) { return std::isfinite(v); });
  if (first == level.end() || !std::isfinite(hot)) return {false, seen.start_s};
  const double rise = hot - *first;
  if (rise < cold_start_k) return {false, seen.start_s};
  const double near = hot - std::max(near_heat_k, 0.1 * rise);
  for (std::size_t j = 0; j < level.size(); ++j) {
    if (level[j] > near) return {true, seen.time_of(static_cast<int>(j))};
  }
  return {true, seen.end_s()};
}

double usual_stint_s(const Burn& burn) {
  std::vector<double> lengths;
  lengths.reserve(burn.stints.size());
  for (const auto& stint : burn.stints) lengths.push_back(stint.to_s - stint.from_s);
  return lengths.empty() ? default_stint_s : std::max(60.0, series::median(lengths));
}

std::vector<std::string> settings_of(const Burn& burn) {
  std::vector<std::string> out;
  for (const auto& stint : burn.stints) {
    if (std::ranges::find(out, stint.setting) == out.end()) out.push_back(stint.setting);
  }
  return out;
}

/// How far each setting is approached at each block: 1 where it has been on for long.
void fill_settings(const Burn& burn, double lag_s, WarmupData& data) {
  for (const auto& name : settings_of(burn)) {
    std::vector<double> share;
    for (const double t : data.t_s) {
      double value = burn.stints.front().setting == name ? 1.0 : 0.0;
      for (std::size_t k = 1; k < burn.stints.size() && burn.stints[k].from_s < t; ++k) {
        // From the value at this change toward the new one, up to the next change or t.
        const double until =
            k + 1 < burn.stints.size() ? std::min(t, burn.stints[k + 1].from_s) : t;
        const double target = burn.stints[k].setting == name ? 1.0 : 0.0;
        value = target + (value - target) * std::exp(-(until - burn.stints[k].from_s) / lag_s);
      }
      share.push_back(value);
    }
    data.settings.push_back(std::move(share));
  }
}

int stint_at(const Burn& burn, double t) {
  int found = -1;
  for (std::size_t k = 0; k < burn.stints.size(); ++k) {
    if (burn.stints[k].from_s <= t) found = static_cast<int>(k);
  }
  return found;
}

WarmupData data_of(std::span<const double> y, const Burn& burn, const Seen& seen,
                   const Start& start, double lag_s, std::optional<double> period_s) {
  WarmupData data;
  data.from_s = start.heat_at_s;
  const double from_s = start.heat_at_s + (start.is_cold ? 0.0 : skipped_lags * lag_s);
  const double span = last_owed_s(burn, seen) - from_s;
  const double block =
      std::max({span / most_blocks, shortest_block_s, period_s.value_or(0.0), seen.step_s});
  const int every = std::max(1, static_cast<int>(std::lround(block / seen.step_s)));
  const int last = seen.index_of(last_owed_s(burn, seen));
  for (int j = seen.index_of(from_s); j + every <= last; j += every) {
    double sum = 0.0;
    int n = 0;
    for (auto i = static_cast<std::size_t>(j); i < static_cast<std::size_t>(j + every); ++i) {
      if (!std::isfinite(y[i]) || seen.excluded[i] != 0) continue;
      sum += y[i];
      ++n;
    }
    if (2 * n < every) continue;
    data.t_s.push_back(seen.time_of(j) + 0.5 * (every - 1) * seen.step_s);
    data.y.push_back(sum / n);
    data.stint.push_back(stint_at(burn, data.t_s.back()));
  }
  if (!burn.stints.empty()) fill_settings(burn, lag_s, data);
  return data;
}

/// The two spots that run farthest from the level, as runs.
std::vector<std::vector<double>> outermost_runs(const Seen& seen) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < seen.spots.size(); ++i) {
    if (std::isfinite(seen.offsets[i])) order.push_back(i);
  }
  std::ranges::sort(order, {}, [&](std::size_t i) { return seen.offsets[i]; });
  std::vector<std::vector<double>> out;
  if (order.size() < 2) return out;
  for (const std::size_t i : {order.front(), order.back()}) {
    std::vector<double> d(seen.spots[i].begin(), seen.spots[i].end());
    for (std::size_t j = 0; j < d.size(); ++j) d[j] -= seen.level[j];
    out.push_back(std::move(d));
  }
  return out;
}

struct Question {
  double bar_k, from_s, stretch_s, earliest_s, end_s;
  bool is_cold;
};

/// One series' answer: the first moment at which the rest is small with the wanted probability.
Soak answer_of(const Warmup& warmup, double prior_odds, const Question& q) {
  const double odds = prior_odds * std::exp(std::min(50.0, warmup.log_odds));
  const double chance_of_none = 1.0 / (1.0 + odds);
  const auto chance_at = [&](double t) {
    return chance_of_none +
           (1.0 - chance_of_none) * warmup.chance_below(q.bar_k, t, q.from_s, q.stretch_s);
  };
  Soak out;
  out.rest_amplitude_k = warmup.mean_k() * (1.0 - chance_of_none);
  out.time_constant_s = warmup.mean_tau_s();
  out.from_s = q.from_s;
  double t = q.earliest_s;
  if (!q.is_cold && odds < least_odds_hot) {
    out.soaked_at_s = t;
    out.rest_amplitude_k = 0.0;
    return out;
  }
  while (t < q.end_s + search_longest_s && chance_at(t) < wanted_chance) t += search_step_s;
  if (t <= q.end_s) {
    out.soaked_at_s = t;
    return out;
  }
  out.wait_s = t - q.end_s;
  const double left = std::abs(out.rest_at(q.end_s) - out.rest_at(q.end_s + q.stretch_s));
  out.is_unknown = left < q.bar_k && q.end_s >= q.earliest_s;
  return out;
}

/// The later of two answers.
Soak later(const Soak& a, const Soak& b) {
  if (!a.soaked_at_s || !b.soaked_at_s) {
    if (a.soaked_at_s) return b;
    if (b.soaked_at_s) return a;
    return a.wait_s >= b.wait_s ? a : b;
  }
  return *a.soaked_at_s >= *b.soaked_at_s ? a : b;
}

}  // namespace

double Soak::rest_at(double t) const {
  return time_constant_s > 0.0 ? rest_amplitude_k * std::exp(-(t - from_s) / time_constant_s) : 0.0;
}

Soak soak_of(const Burn& burn, const Seen& seen, double lag_s, std::optional<double> period_s) {
  const Start start = start_of(burn, seen);
  const double end_s = last_owed_s(burn, seen);
  Question question{bar_share * burn.matters.kelvins(),
                    start.heat_at_s,
                    usual_stint_s(burn),
                    start.heat_at_s + (start.is_cold ? least_wait_s : 0.0),
                    end_s,
                    start.is_cold};
  Soak out;
  out.from_s = out.heat_at_s = start.heat_at_s;
  out.is_cold = start.is_cold;
  if (start.is_cold) {
    out.rest_amplitude_k = near_heat_k;
    out.time_constant_s = unseen_tau_s;
  }
  if (question.earliest_s <= end_s) {
    out.soaked_at_s = question.earliest_s;
  } else {
    out.wait_s = question.earliest_s - end_s;
  }
  auto data = data_of(seen.level, burn, seen, start, lag_s, period_s);
  data.slope_sd_k_h = level_slope_k_h;
  data.rises_only = true;
  if (data.y.size() < fewest_blocks) return out;
  const auto level =
      answer_of(fit_warmup(data), start.is_cold ? level_odds_cold : level_odds_hot, question);
  out = level;
  for (const auto& run : outermost_runs(seen)) {
    auto spot = data_of(run, burn, seen, start, lag_s, std::nullopt);
    spot.slope_sd_k_h = spot_slope_k_h;
    if (spot.y.size() < fewest_blocks) continue;
    out = later(
        out, answer_of(fit_warmup(spot), start.is_cold ? spot_odds_cold : spot_odds_hot, question));
  }
  if (!out.soaked_at_s && out.rest_amplitude_k == 0.0)
    out.rest_amplitude_k = level.rest_amplitude_k;
  return out;
}

}  // namespace pitwright::call
