#include "call/health.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "series/robust.h"
#include "series/smooth.h"

namespace pitwright::call {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

// What no chamber's air has. 700 degC is above any grate and below the rails of thermocouple
// amplifiers (1260.53 in data/fsri_residential_gasburner_2016); -40 is below any weather burnt in.
constexpr double lowest_c = -40.0, highest_c = 700.0;

constexpr double stuck_others_k = 5.0;  ///< the others' range that makes a constant probe dead
constexpr double frozen_shortest_s = 180.0;
constexpr int frozen_fewest = 5;           ///< readings
constexpr double frozen_usual_runs = 4.0;  ///< times the run length that nine of ten stay below
constexpr double frozen_steps = 4.0;       ///< roundings the probe should have moved by
constexpr double frozen_alone_s = 600.0;   ///< without others to compare with
constexpr double lowest_gain = 0.3;        ///< a probe is not expected to answer less than this
constexpr double missing_shortest_s = 120.0;

double range_of(std::span<const double> values) {
  double low = INFINITY, high = -INFINITY;
  for (const double v : values) {
    if (!std::isfinite(v)) continue;
    low = std::min(low, v);
    high = std::max(high, v);
  }
  return high > low ? high - low : 0.0;
}

struct Run {
  std::size_t first, last;  ///< indices of readings, both included
};

std::vector<Run> runs_of(std::span<const double> values) {
  std::vector<Run> runs;
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (!std::isfinite(values[i])) continue;
    if (!runs.empty() && runs.back().last + 1 == i && values[i] == values[i - 1]) {
      runs.back().last = i;
    } else {
      runs.push_back({i, i});
    }
  }
  return runs;
}

/// The step a probe's readings come in: nine of ten changes are at least this.
double rounding_of(std::span<const double> values, const std::vector<Run>& runs) {
  std::vector<double> steps;
  steps.reserve(runs.size());
  for (std::size_t r = 1; r < runs.size(); ++r) {
    steps.push_back(std::abs(values[runs[r].first] - values[runs[r - 1].last]));
  }
  if (steps.empty()) return 0.0;
  const auto tenth = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 10);
  std::ranges::nth_element(steps, tenth);
  return *tenth;
}

/// Readings in a run that nine of ten runs do not exceed.
double usual_run(const std::vector<Run>& runs) {
  std::vector<std::size_t> lengths;
  lengths.reserve(runs.size());
  for (const Run& run : runs) lengths.push_back(run.last - run.first + 1);
  if (lengths.empty()) return 1.0;
  const auto place = lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() * 9 / 10);
  std::ranges::nth_element(lengths, place);
  return static_cast<double>(*place);
}

std::span<const double> between(std::span<const double> values, double from_s, double to_s,
                                const series::Moments& m) {
  const double n = static_cast<double>(values.size());
  const double a = std::clamp((from_s - m.start_s) / m.step_s, 0.0, n);
  const double b = std::clamp((to_s - m.start_s) / m.step_s + 1.0, a, n);
  return values.subspan(static_cast<std::size_t>(a),
                        static_cast<std::size_t>(b) - static_cast<std::size_t>(a));
}

}  // namespace

std::vector<std::vector<double>> others_of(const std::vector<Column>& columns) {
  std::vector<std::span<const double>> spans;
  spans.reserve(columns.size());
  for (const Column& c : columns) spans.emplace_back(c.celsius);
  const int n = columns.empty() ? 0 : static_cast<int>(columns.front().celsius.size());
  const auto all = series::common_of(spans, n);
  std::vector<std::vector<double>> out;
  out.reserve(columns.size());
  for (std::size_t i = 0; i < spans.size(); ++i) {
    out.push_back(all.without(spans[i], all.offsets[i]));
  }
  return out;
}

bool drop_impossible(Column& column) {
  std::size_t dropped = 0, seen = 0;
  for (double& v : column.values) {
    if (!std::isfinite(v)) continue;
    ++seen;
    if (v > lowest_c && v < highest_c) continue;
    v = nan;
    ++dropped;
  }
  return 2 * dropped > seen;
}

bool is_stuck(const Column& column, std::span<const double> others) {
  double low = INFINITY, high = -INFINITY;
  for (const double v : column.values) {
    if (!std::isfinite(v)) continue;
    low = std::min(low, v);
    high = std::max(high, v);
  }
  return low == high && range_of(others) > stuck_others_k;
}

std::vector<Trouble> drop_frozen(Column& column, std::span<const double> others,
                                 const series::Moments& moments) {
  const auto& seconds = column.probe->readings.seconds;
  const auto runs = runs_of(column.values);
  std::vector<Trouble> out;
  if (runs.size() < 2) return out;
  const double usual = usual_run(runs);
  const double rounding = rounding_of(column.values, runs);
  const double fewest = std::max<double>(frozen_fewest, frozen_usual_runs * usual);
  const double others_move = series::robust_sd(others);
  const double gain =
      others_move > 0.0
          ? std::clamp(series::robust_sd(column.celsius) / others_move, lowest_gain, 1.0)
          : lowest_gain;
  const bool is_alone = others.empty() || !(others_move > 0.0);
  for (const Run& run : runs) {
    const double from_s = seconds[run.first], to_s = seconds[run.last];
    const auto length = static_cast<double>(run.last - run.first + 1);
    if (length < fewest || to_s - from_s < frozen_shortest_s) continue;
    const double moved = gain * range_of(between(others, from_s, to_s, moments));
    const bool is_frozen = is_alone ? to_s - from_s >= frozen_alone_s && length >= 5.0 * fewest
                                    : moved > frozen_steps * rounding;
    if (!is_frozen) continue;
    for (std::size_t i = run.first + 1; i <= run.last; ++i) column.values[i] = nan;
    out.push_back({TroubleKind::probe, TroubleCode::probe_frozen, column.probe->channel, from_s,
                   to_s - from_s});
  }
  return out;
}

std::optional<Trouble> missing_of(const Column& column, double from_s, double to_s, bool whole) {
  const auto& seconds = column.probe->readings.seconds;
  const double interval = series::usual_interval_s(seconds, column.values);
  const double least = std::max(60.0, 2.5 * interval);
  double total = 0.0, last = whole ? from_s : nan;
  std::optional<double> began;
  const auto count_gap = [&](double a, double b) {
    a = std::clamp(a, from_s, to_s);
    b = std::clamp(b, from_s, to_s);
    if (b - a <= least) return;
    total += b - a - interval;
    if (!began) began = a;
  };
  for (std::size_t i = 0; i < seconds.size(); ++i) {
    if (!std::isfinite(column.values[i])) continue;
    if (std::isfinite(last)) count_gap(last, seconds[i]);
    last = std::max(seconds[i], std::isfinite(last) ? last : seconds[i]);
  }
  if (whole && std::isfinite(last)) count_gap(last, to_s);
  if (total < missing_shortest_s) return std::nullopt;
  return Trouble{TroubleKind::probe, TroubleCode::probe_missing, column.probe->channel, began,
                 total};
}

}  // namespace pitwright::call
