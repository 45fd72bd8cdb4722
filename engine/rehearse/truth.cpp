#include "rehearse/truth.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/expects.h"
#include "rehearse/burning.h"

namespace pitwright::rehearse {
namespace {

constexpr int soak_rounds = 4;
constexpr double soak_round_s = 900;
constexpr double least_window_s = 2400;
constexpr double longest_window_s = 3 * 3600;
constexpr int least_swings = 4;
constexpr double least_swing_k = 0.1;

/// Samples of what is averaged, one row a tick: level, dial, heat, plate excess, wall, then spots.
struct Record {
  enum Column { level, dial, heat, excess, wall_c, first_spot };
  std::size_t columns;
  std::vector<double> rows;

  std::size_t size() const { return rows.size() / columns; }
  double operator()(std::size_t row, std::size_t column) const {
    return rows[row * columns + column];
  }
  double mean(std::size_t from, std::size_t to, std::size_t column) const {
    double sum = 0;
    for (std::size_t r = from; r < to; ++r) sum += (*this)(r, column);
    return sum / static_cast<double>(to - from);
  }
};

void sample(const Burning& pit, Record& record) {
  const auto& y = pit.state();
  const auto n = record.columns - Record::first_spot;
  const auto row = record.rows.size();
  record.rows.resize(row + record.columns);
  double sum = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const double t = pit.spot_c(static_cast<int>(i));
    record.rows[row + Record::first_spot + i] = t;
    sum += t;
  }
  record.rows[row + Record::level] = sum / static_cast<double>(n);
  record.rows[row + Record::dial] = pit.sensor_c();
  record.rows[row + Record::heat] = pit.inputs().heat * y[flame];
  record.rows[row + Record::excess] = y[plate] - y[air];
  record.rows[row + Record::wall_c] = y[wall];
}

struct Cycle {
  std::vector<std::size_t> crossings;  ///< rows where the signal rises through its middle
  double size = 0;                     ///< mean peak to trough between them
};

/// Upward crossings of the mean, armed anew below a quarter of the range.
Cycle cycle_of(const Record& record, std::size_t column) {
  Cycle cycle;
  double low = record(0, column), high = low;
  for (std::size_t r = 1; r < record.size(); ++r) {
    low = std::min(low, record(r, column));
    high = std::max(high, record(r, column));
  }
  if (high - low < least_swing_k) return cycle;
  const double middle = record.mean(0, record.size(), column);
  const double arm = middle - 0.25 * (middle - low);
  bool armed = false;
  double peak = 0, trough = 0, sizes = 0;
  for (std::size_t r = 0; r < record.size(); ++r) {
    const double v = record(r, column);
    peak = std::max(peak, v);
    trough = std::min(trough, v);
    if (v < arm) armed = true;
    if (!armed || v < middle) continue;
    if (!cycle.crossings.empty()) sizes += peak - trough;
    cycle.crossings.push_back(r);
    armed = false;
    peak = trough = v;
  }
  if (cycle.crossings.size() > 1) sizes /= static_cast<double>(cycle.crossings.size() - 1);
  cycle.size = sizes;
  return cycle;
}

/// A hand-fed fire cycles as it is fed; any other as it shows.
TrueSwing swing_in(const PitModel& model, const Record& record, std::size_t column) {
  TrueSwing swing;
  if (model.fire.kind == FireKind::splits) {
    const auto rows = static_cast<std::size_t>(std::lround(model.fire.period_s / tick_s));
    const auto whole = record.size() / rows;
    for (std::size_t k = 0; k < whole; ++k) {
      double low = record(k * rows, column), high = low;
      for (std::size_t r = k * rows; r < (k + 1) * rows; ++r) {
        low = std::min(low, record(r, column));
        high = std::max(high, record(r, column));
      }
      swing.size_k += (high - low) / static_cast<double>(whole);
    }
    if (swing.size_k >= least_swing_k) swing.period_s = model.fire.period_s;
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

double run_ticks(Burning& pit, double t_s, double span_s, Record& record) {
  const auto ticks = std::lround(span_s / tick_s);
  for (long i = 0; i < ticks; ++i, t_s += tick_s) {
    pit.tick(t_s);
    sample(pit, record);
  }
  return t_s;
}

/// A deep part far from its end would take hours: put it where the wall's mean would bring it.
void hasten_deep(const PitModel& model, Burning& pit, double wall_mean_c) {
  const auto& b = model.body;
  const double out_w_k = b.deep_out_w_k * (1 + b.wind_loss_s_m * model.weather.wind_m_s);
  pit.state()[deep] = (b.wall_deep_w_k * wall_mean_c + out_w_k * model.weather.outside_c) /
                      (b.wall_deep_w_k + out_w_k);
}

double soak(const PitModel& model, Burning& pit, double round_s) {
  const auto columns = Record::first_spot + model.spots.size();
  double t_s = 0;
  for (int round = 0; round < soak_rounds; ++round) {
    Record record{columns, {}};
    t_s = run_ticks(pit, t_s, round_s, record);
    const auto cycle = cycle_of(record, Record::level);
    const bool cycles = cycle.crossings.size() > 1;
    const auto from = cycles ? cycle.crossings.front() : 0;
    const auto to = cycles ? cycle.crossings.back() : record.size();
    if (round + 1 < soak_rounds) hasten_deep(model, pit, record.mean(from, to, Record::wall_c));
  }
  return t_s;
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
  const double round_s =
      by_hand ? std::max(1.0, std::ceil(soak_round_s / model.fire.period_s)) * model.fire.period_s
              : soak_round_s;
  double t_s = soak(model, pit, round_s);

  Record record{Record::first_spot + model.spots.size(), {}};
  Cycle cycle;
  const double piece_s = by_hand ? round_s : 1200;
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
