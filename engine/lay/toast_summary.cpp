#include "lay/toast_summary.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace pitwright::lay {
namespace {

constexpr double z95 = 1.959964;

double median(const Grid& grid) {
  std::vector<double> all;
  for (const auto& row : grid) all.insert(all.end(), row.begin(), row.end());
  const auto middle = all.begin() + std::ssize(all) / 2;
  std::ranges::nth_element(all, middle);
  return *middle;
}

}  // namespace

ToastSummary summary_of(const GrateLay& alone, const ToastLay& toast) {
  const auto at = [&](std::size_t x, std::size_t y, const Grid& value, const Grid& sd) {
    const double reach = z95 * sd[y][x], v = value[y][x];
    return ToastPlace{{toast.x_m[x], toast.y_m[y], alone.z_m}, v, v - reach, v + reach};
  };
  const auto radiant = [&](std::size_t x, std::size_t y) {
    return at(x, y, toast.radiant_k, toast.radiant_sd_k);
  };
  ToastSummary summary{at(0, 0, toast.value_k, toast.sd_k),
                       at(0, 0, toast.value_k, toast.sd_k),
                       median(toast.sd_k),
                       median(alone.sd_k),
                       radiant(0, 0),
                       0.0,
                       0.0};
  double surest = -1.0;
  std::size_t clear = 0;
  for (std::size_t y = 0; y < toast.y_m.size(); ++y)
    for (std::size_t x = 0; x < toast.x_m.size(); ++x) {
      const auto run = at(x, y, toast.value_k, toast.sd_k);
      if (run.value_k > summary.hottest.value_k) summary.hottest = run;
      if (run.value_k < summary.coolest.value_k) summary.coolest = run;
      const auto beyond = radiant(x, y);
      if (beyond.low_k > 0.0 || beyond.high_k < 0.0) ++clear;
      const double sure = std::abs(beyond.value_k) / toast.radiant_sd_k[y][x];
      if (sure <= surest) continue;
      surest = sure;
      summary.disagreement = beyond;
      summary.chance_matters = toast.disagree[y][x];
    }
  summary.share =
      static_cast<double>(clear) / static_cast<double>(toast.x_m.size() * toast.y_m.size());
  return summary;
}

}  // namespace pitwright::lay
