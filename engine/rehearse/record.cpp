#include "rehearse/record.h"

#include <algorithm>
#include <cmath>

namespace pitwright::rehearse {
namespace {

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

}  // namespace

double Record::mean(std::size_t from, std::size_t to, std::size_t column) const {
  double sum = 0;
  for (std::size_t r = from; r < to; ++r) sum += (*this)(r, column);
  return sum / static_cast<double>(to - from);
}

double run_ticks(Burning& pit, double t_s, double span_s, Record& record) {
  const auto ticks = std::lround(span_s / tick_s);
  for (long i = 0; i < ticks; ++i, t_s += tick_s) {
    pit.tick(t_s);
    sample(pit, record);
  }
  return t_s;
}

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

}  // namespace pitwright::rehearse
