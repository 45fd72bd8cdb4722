#include "rehearse/truth.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/expects.h"
#include "rehearse/burning.h"
#include "rehearse/record.h"
#include "rehearse/soak.h"

namespace pitwright::rehearse {
namespace {

constexpr double least_window_s = 2400;
constexpr double longest_window_s = 3 * 3600;
constexpr int least_swings = 4;

/// A hand-fed fire cycles as it is fed; any other as it shows.
TrueSwing swing_in(const PitModel& model, const Record& record, std::size_t column) {
  TrueSwing swing;
  if (model.fire.kind == FireKind::splits) {
    const auto rows = static_cast<std::size_t>(std::lround(split_period_s(model.fire) / tick_s));
    const auto whole = record.size() / rows;
    for (std::size_t k = 0; k < whole; ++k) {
      double low = record(k * rows, column), high = low;
      for (std::size_t r = k * rows; r < (k + 1) * rows; ++r) {
        low = std::min(low, record(r, column));
        high = std::max(high, record(r, column));
      }
      swing.size_k += (high - low) / static_cast<double>(whole);
    }
    if (swing.size_k >= least_swing_k) swing.period_s = split_period_s(model.fire);
    return swing;
  }
  const Cycle cycle = cycle_of(record, column);
  if (cycle.crossings.size() < 3) return swing;
  const auto rows = cycle.crossings.back() - cycle.crossings.front();
  swing.period_s =
      static_cast<double>(rows) * tick_s / static_cast<double>(cycle.crossings.size() - 1);
  swing.size_k = cycle.size;
  return swing;
}

}  // namespace

/// Level, runs, tilts and spread of some spots. Tilt: least-squares slope on one coordinate times
/// the measured extent.
static void fill_lay(const PitModel& model, std::span<const int> spots, SettingTruth& truth) {
  const auto n = static_cast<double>(spots.size());
  truth.level_c = 0;
  for (const int i : spots) truth.level_c += truth.spot_c[static_cast<std::size_t>(i)] / n;
  truth.run_k.clear();
  for (const double t : truth.spot_c) truth.run_k.push_back(t - truth.level_c);
  truth.dial_gap_k = truth.dial_c - truth.level_c;
  double low = 0, high = 0;
  for (const int i : spots) {
    low = std::min(low, truth.run_k[static_cast<std::size_t>(i)]);
    high = std::max(high, truth.run_k[static_cast<std::size_t>(i)]);
  }
  truth.spread_k = high - low;
  constexpr std::array coordinates{&Spot::x_m, &Spot::y_m, &Spot::z_m};
  for (std::size_t axis = 0; axis < 3; ++axis) {
    double mean = 0, sxx = 0, sxy = 0, least = 1e9, most = -1e9;
    for (const int i : spots)
      mean += model.spots[static_cast<std::size_t>(i)].*coordinates[axis] / n;
    for (const int i : spots) {
      const double x = model.spots[static_cast<std::size_t>(i)].*coordinates[axis];
      sxx += (x - mean) * (x - mean);
      sxy += (x - mean) * truth.run_k[static_cast<std::size_t>(i)];
      least = std::min(least, x);
      most = std::max(most, x);
    }
    truth.tilt_k[axis].reset();
    if (sxx > 1e-9) truth.tilt_k[axis] = sxy / sxx * (most - least);
  }
}

const SettingTruth& Truth::at(const std::string& setting) const {
  const auto found = std::ranges::find(settings, setting, &SettingTruth::setting);
  expects(found != settings.end());
  return *found;
}

SettingTruth truth_at(const PitModel& model, const Setting& setting) {
  Burning pit(model, nullptr);
  apply_calm(model, pit.inputs());
  pit.use(setting);
  pit.start_soaked(0);
  const bool by_hand = model.fire.kind == FireKind::splits;
  double t_s = soak(model, pit);

  Record record(model);
  Cycle cycle;
  const double piece_s = by_hand ? round_s(model.fire) : 1200;
  for (double window_s = 0; window_s < longest_window_s; window_s += piece_s) {
    t_s = run_ticks(pit, t_s, piece_s, record);
    if (window_s + piece_s < least_window_s) continue;
    cycle = cycle_of(record, Record::level);
    if (cycle.crossings.empty() || static_cast<int>(cycle.crossings.size()) > least_swings) break;
    if (by_hand) break;
  }

  const bool cycles = !by_hand && cycle.crossings.size() > 1;
  const auto from = cycles ? cycle.crossings.front() : 0;
  const auto to = cycles ? cycle.crossings.back() : record.size();
  SettingTruth truth;
  truth.setting = setting.name;
  for (std::size_t i = 0; i < model.spots.size(); ++i)
    truth.spot_c.push_back(record.mean(from, to, Record::first_spot + i));
  truth.dial_c = record.mean(from, to, Record::dial);
  truth.heat_w = record.mean(from, to, Record::heat);
  truth.plate_excess_k = record.mean(from, to, Record::excess);
  truth.swing = swing_in(model, record, Record::level);
  truth.dial_swing = swing_in(model, record, Record::dial);
  std::vector<int> all(model.spots.size());
  std::iota(all.begin(), all.end(), 0);
  fill_lay(model, all, truth);
  return truth;
}

Truth truth_of(const PitModel& model) {
  Truth truth;
  for (const auto& spot : model.spots) truth.spots.push_back(spot.name);
  for (const auto& setting : model.settings) truth.settings.push_back(truth_at(model, setting));
  return truth;
}

Truth over_spots(const PitModel& model, const Truth& truth, std::span<const int> spots) {
  expects(!spots.empty());
  Truth some = truth;
  for (auto& setting : some.settings) {
    fill_lay(model, spots, setting);
    std::vector<double> c, k;
    for (const int i : spots) {
      c.push_back(setting.spot_c[static_cast<std::size_t>(i)]);
      k.push_back(setting.run_k[static_cast<std::size_t>(i)]);
    }
    setting.spot_c = std::move(c);
    setting.run_k = std::move(k);
  }
  some.spots.clear();
  for (const int i : spots) some.spots.push_back(truth.spots[static_cast<std::size_t>(i)]);
  return some;
}

}  // namespace pitwright::rehearse
