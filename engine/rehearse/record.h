#pragma once

#include <cstddef>
#include <vector>

#include "rehearse/burning.h"

namespace pitwright::rehearse {

/// Samples of what the truth averages, one row a tick.
struct Record {
  enum Column { level, dial, heat, excess, wall_c, first_spot };
  std::size_t columns;
  std::vector<double> rows;

  explicit Record(const PitModel& model) : columns(first_spot + model.spots.size()) {}

  std::size_t size() const { return rows.size() / columns; }
  double operator()(std::size_t row, std::size_t column) const {
    return rows[row * columns + column];
  }
  double mean(std::size_t from, std::size_t to, std::size_t column) const;
};

/// Runs the pit from t_s and records each tick; the time after it.
double run_ticks(Burning& pit, double t_s, double span_s, Record& record);

/// A swing smaller than this is none [K].
inline constexpr double least_swing_k = 0.1;

/// The cycle that one column shows: rows where it rises through its mean, and its mean size.
struct Cycle {
  std::vector<std::size_t> crossings;
  double size = 0;
};

Cycle cycle_of(const Record& record, std::size_t column);

}  // namespace pitwright::rehearse
