#include "call/assemble.h"

#include <cmath>
#include <functional>
#include <limits>

#include "call/spread.h"
#include "call/words.h"

namespace pitwright::call {
namespace {

constexpr double error = 0.05;

Estimate estimate_of(const numeric::NormalMixture& law) {
  const auto range = numeric::central_interval(law, error);
  return {numeric::mean(law), range.low, range.high};
}

/// Independent half widths at 95 % add as squares.
Estimate widened(Estimate e, double by) {
  return {e.value, e.value - std::hypot(e.value - e.low, by),
          e.value + std::hypot(e.high - e.value, by)};
}

int settings_of(const Evidence& evidence) {
  return static_cast<int>(evidence.windows.settings.size());
}

int pairs_of(const Evidence& evidence) {
  const int p = settings_of(evidence);
  return p * (p - 1) / 2;
}

/// Changes that are comparisons in this table's word: only between settings that were counted.
std::vector<SettingEstimate> by_setting(const Evidence& evidence, const Measured& now,
                                        double uncertainty_k) {
  std::vector<SettingEstimate> result;
  for (int k = 0; k < settings_of(evidence); ++k) {
    SettingEstimate setting{k, std::nullopt, uncertainty_k};
    if (const auto law = now.at(k)) setting.estimate = widened(estimate_of(*law), uncertainty_k);
    result.push_back(setting);
  }
  return result;
}

/// Is no setting of the quantity seen in two stretches? Then the re-setting error rests on its
/// prior.
bool is_borrowed(const Tables& tables, const Measured& measured) {
  std::vector<int> stretches, settings;
  for (const int b : measured.blocks()) {
    const auto& block = tables.blocks[static_cast<std::size_t>(b)];
    if (stretches.empty() || stretches.back() != block.stretch) {
      stretches.push_back(block.stretch);
      for (const int s : settings)
        if (s == block.setting) return false;
      settings.push_back(block.setting);
    }
  }
  return true;
}

Change blank_change(int from, int to) {
  Change change{};
  change.from = from;
  change.to = to;
  change.word_low = -std::numeric_limits<double>::infinity();
  change.word_high = std::numeric_limits<double>::infinity();
  return change;
}

/// `comparisons`: of the whole table that the change belongs to.
Change change_of(const Evidence& evidence, const Measured& now, const Measured* closed, int from,
                 int to, int comparisons) {
  Change change = blank_change(from, to);
  change.borrowed = is_borrowed(evidence.now, now);
  const auto law = now.change(from, to);
  if (law) change.estimate = estimate_of(*law);
  const double look = look_error(evidence.closed_stints);
  if (closed == nullptr || look <= 0.0) return change;
  const auto closed_law = closed == &now ? law : closed->change(from, to);
  if (!closed_law) return change;
  const auto range = numeric::central_interval(*closed_law, sidak(look, comparisons));
  change.word_low = range.low;
  change.word_high = range.high;
  change.word = word_of(range, evidence.matters_k);
  return change;
}

std::vector<Change> all_changes(const Evidence& evidence,
                                const std::function<Change(int, int)>& make) {
  std::vector<Change> changes;
  for (int from = 0; from < settings_of(evidence); ++from)
    for (int to = from + 1; to < settings_of(evidence); ++to) changes.push_back(make(from, to));
  return changes;
}

Quantity quantity(const Evidence& evidence, const Measured& now, const Measured* closed,
                  double uncertainty_k, int series_in_table) {
  return {by_setting(evidence, now, uncertainty_k), all_changes(evidence, [&](int from, int to) {
            return change_of(evidence, now, closed, from, to,
                             std::max(1, series_in_table * pairs_of(evidence)));
          })};
}

/// The same quantity among the closed tables; null where nothing is closed.
const Measured* closed_one(const Evidence& evidence, const std::vector<Measured>& of,
                           std::size_t i) {
  return i < of.size() && !evidence.closed.empty() ? &of[i] : nullptr;
}

/// The i-th of what was measured now; where nothing counts yet, one that knows no setting.
const Measured& now_one(const std::vector<Measured>& of, std::size_t i) {
  static const Measured nothing;
  return i < of.size() ? of[i] : nothing;
}

SpotCall spot_call(const Evidence& evidence, std::size_t i) {
  const auto& spot = evidence.panel.spots[i];
  const auto& now = evidence.now;
  SpotCall call{spot.spot, spot.channel, {}, {}};
  call.runs =
      quantity(evidence, now_one(now.runs, i), closed_one(evidence, evidence.closed.runs, i),
               run_uncertainty_k(evidence.panel, evidence.moments, static_cast<int>(i)),
               static_cast<int>(evidence.panel.spots.size()));
  call.reading_changes = all_changes(evidence, [&](int from, int to) {
    Change change = blank_change(from, to);
    const auto& readings = now_one(now.readings, i);
    change.borrowed = is_borrowed(now, readings);
    if (const auto law = readings.change(from, to)) change.estimate = estimate_of(*law);
    return change;
  });
  return call;
}

Quantity spread_quantity(const Evidence& evidence) {
  Quantity spread;
  const auto& tables = evidence.now;
  double uncertainty_k = 0.0;
  for (const auto& pair : tables.pairs)
    uncertainty_k = std::max(uncertainty_k, pair_uncertainty_k(evidence.panel, pair));
  Spread now(tables, evidence.panel), of_closed(evidence.closed, evidence.panel);
  Spread& closed = &evidence.closed == &tables ? now : of_closed;
  for (int k = 0; k < settings_of(evidence); ++k)
    spread.by_setting.push_back({k, now.at(k, error), uncertainty_k});
  const double look = look_error(evidence.closed_stints);
  spread.changes = all_changes(evidence, [&](int from, int to) {
    Change change = blank_change(from, to);
    change.estimate = now.change(from, to, error);
    change.borrowed = is_borrowed(tables, tables.level);
    if (evidence.closed.empty() || look <= 0.0) return change;
    const auto words = closed.change(from, to, sidak(look, pairs_of(evidence)));
    if (!words) return change;
    change.word_low = words->low;
    change.word_high = words->high;
    change.word = word_of({words->low, words->high}, evidence.matters_k);
    return change;
  });
  return spread;
}

}  // namespace

void fill_tables(const Evidence& evidence, Report& report) {
  const auto& now = evidence.now;
  const auto& closed = evidence.closed;
  const double level_k = level_uncertainty_k(evidence.panel, evidence.moments);
  report.level =
      quantity(evidence, now.level, closed.empty() ? nullptr : &closed.level, level_k, 1);
  for (std::size_t i = 0; i < evidence.panel.spots.size(); ++i)
    report.spots.push_back(spot_call(evidence, i));
  for (std::size_t i = 0; i < now.tilts.size(); ++i) {
    const auto& contrast = now.tilt_contrasts[i];
    report.tilts.push_back({contrast.axis, contrast.extent_m,
                            quantity(evidence, now.tilts[i], closed_one(evidence, closed.tilts, i),
                                     tilt_uncertainty_k(evidence.panel, contrast), 1)});
  }
  report.spread = spread_quantity(evidence);
  if (now.dial_gap)
    report.dial_gap =
        quantity(evidence, *now.dial_gap, closed.dial_gap ? &*closed.dial_gap : nullptr,
                 std::hypot(level_k, evidence.dial_uncertainty_k), 1);
}

}  // namespace pitwright::call
