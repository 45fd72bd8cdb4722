#pragma once

#include <vector>

#include "numeric/mixture.h"

namespace pitwright::numeric {

/// Gathers many normals into few: cells of like mean and like sd, each replaced by one normal with
/// the cell's weight, mean and variance.
/// Accuracy: cells are 8 % wide in sd and a quarter of an sd in mean; the 95 % range of a smooth
///           mixture moves by less than 5 parts in 10,000 of its width, the 99.99 % range by less
///           than 2 in 1,000 (merger_test).
class Merger {
 public:
  /// Pre: log_sd_low <= log_sd_high; every sd added later lies between.
  Merger(double center, double log_sd_low, double log_sd_high);

  void add(double weight, double mean, double log_sd, double variance) {
    const int row = static_cast<int>((log_sd - log_sd_low_) * (1.0 / sd_step));
    const auto r = static_cast<std::size_t>(row < 0 ? 0 : (row >= rows_ ? rows_ - 1 : row));
    const double d = mean - center_;
    const double scaled = d * per_width_[r];
    const int column =
        scaled >= half ? half
                       : (scaled <= -half ? -half : static_cast<int>(scaled + half + 0.5) - half);
    auto& cell = cells_[r * columns + static_cast<std::size_t>(column + half)];
    cell.weight += weight;
    cell.first += weight * d;
    cell.second += weight * (d * d + variance);
  }

  /// Pre: something with a positive weight was added.
  NormalMixture merged() const;

 private:
  static constexpr double sd_step = 0.08;
  static constexpr int half = 10, columns = 2 * half + 1;
  struct Cell {
    double weight = 0.0, first = 0.0, second = 0.0;
  };
  double center_, log_sd_low_;
  int rows_;
  std::vector<double> per_width_;
  std::vector<Cell> cells_;
};

}  // namespace pitwright::numeric
