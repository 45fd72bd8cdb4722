#include "numeric/merger.h"

#include <cmath>

#include "base/expects.h"

namespace pitwright::numeric {

Merger::Merger(double center, double log_sd_low, double log_sd_high)
    : center_(center),
      log_sd_low_(log_sd_low),
      rows_(1 + static_cast<int>((log_sd_high - log_sd_low) / sd_step)),
      cells_(static_cast<std::size_t>(rows_ * columns)) {
  expects(log_sd_low <= log_sd_high);
  constexpr double width_in_sds = 0.25;
  for (int row = 0; row < rows_; ++row)
    per_width_.push_back(std::exp(-(log_sd_low + sd_step * row)) / width_in_sds);
}

NormalMixture Merger::merged() const {
  std::vector<Component> parts;
  for (const auto& cell : cells_) {
    if (cell.weight <= 0.0) continue;
    const double d = cell.first / cell.weight;
    parts.push_back({cell.weight, center_ + d, std::sqrt(cell.second / cell.weight - d * d)});
  }
  return normalized(std::move(parts));
}

}  // namespace pitwright::numeric
