#include "call/join.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pitwright::call {
namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();
constexpr double half_widths_per_sd = 1.959964;

/// Mean variance over the settings that were counted; 0 where there is none.
double mean_variance(const Eigen::MatrixXd& covariance) {
  double sum = 0.0;
  int n = 0;
  for (int s = 0; s < covariance.rows(); ++s) {
    if (!std::isfinite(covariance(s, s))) continue;
    sum += covariance(s, s);
    ++n;
  }
  return n > 0 ? sum / n : 0.0;
}

/// What each spot's covariance is to be multiplied with: the errors of runs share the level's.
std::vector<double> own_factors(const std::vector<double>& variances, const std::vector<int>& level,
                                std::size_t spots) {
  const double n = static_cast<double>(level.size());
  std::vector<double> factors(spots, 1.0);
  if (n < 2.0) return factors;
  double sum = 0.0;
  for (const int i : level) sum += variances[static_cast<std::size_t>(i)];
  const double all = sum / (1.0 - 1.0 / n);
  for (const int i : level) {
    const double of_run = variances[static_cast<std::size_t>(i)];
    const double even = 1.0 / (1.0 - 1.0 / n);
    double factor = even;
    if (n > 2.0 && of_run > 0.0)
      factor = (of_run - all / (n * n)) / (1.0 - 2.0 / n) / of_run;
    else if (n == 2.0)
      factor = 2.0;
    factors[static_cast<std::size_t>(i)] = std::clamp(factor, 0.3 * even, 4.0 * even);
  }
  return factors;
}

CountedReadings counted_readings(const std::vector<double>& celsius, const Windows& windows,
                                 const Panel& panel, const Moments& moments, int setting) {
  CountedReadings counted{0, missing, missing, missing, missing};
  double mean = 0.0, squares = 0.0, low = HUGE_VAL, high = -HUGE_VAL;
  for (const auto& stint : windows.stints) {
    if (stint.setting != setting || !stint.counted_from_s || !stint.counted_to_s) continue;
    for (int j = 0; j < panel.n; ++j) {
      const double t = panel.start_s + (j + 0.5) * panel.step_s;
      if (t < *stint.counted_from_s || t >= *stint.counted_to_s) continue;
      const auto k = static_cast<std::size_t>(j);
      if (moments.good[k] == 0 || !std::isfinite(celsius[k])) continue;
      const double before = celsius[k] - mean;
      mean += before / ++counted.moments;
      squares += before * (celsius[k] - mean);
      low = std::min(low, celsius[k]);
      high = std::max(high, celsius[k]);
    }
  }
  if (counted.moments == 0) return counted;
  counted.mean_c = mean;
  counted.sd_k = counted.moments > 1 ? std::sqrt(squares / (counted.moments - 1)) : 0.0;
  counted.low_c = low;
  counted.high_c = high;
  return counted;
}

std::vector<double> flat(const Eigen::MatrixXd& matrix) {
  std::vector<double> values;
  for (Eigen::Index i = 0; i < matrix.rows(); ++i)
    for (Eigen::Index j = 0; j < matrix.cols(); ++j) values.push_back(matrix(i, j));
  return values;
}

std::vector<double> numbers(const Eigen::VectorXd& vector) {
  return {vector.data(), vector.data() + vector.size()};
}

}  // namespace

Together join(const Panel& panel, const Windows& windows, const Moments& moments,
              const Tables& tables) {
  Together together;
  together.settings = windows.settings;
  const int settings = static_cast<int>(windows.settings.size());
  std::vector<Posterior::Joint> runs;
  std::vector<double> variances;
  for (std::size_t i = 0; i < panel.spots.size(); ++i) {
    Posterior::Joint nothing{Eigen::VectorXd::Constant(settings, missing),
                             Eigen::MatrixXd::Constant(settings, settings, missing)};
    runs.push_back(i < tables.runs.size() && tables.runs[i].effects() != nullptr
                       ? tables.runs[i].joint()
                       : std::move(nothing));
    variances.push_back(mean_variance(runs.back().covariance));
  }
  const auto factors = own_factors(variances, moments.level_spots, panel.spots.size());
  for (std::size_t i = 0; i < panel.spots.size(); ++i) {
    const auto& from = panel.spots[i];
    SpotTogether spot{
        from.spot,    from.channel, from.grate, from.x_m,
        from.y_m,     from.z_m,     false,      from.uncertainty_k / half_widths_per_sd,
        from.checked, {},           {},         {}};
    spot.in_level =
        std::ranges::find(moments.level_spots, static_cast<int>(i)) != moments.level_spots.end();
    spot.run_k = numbers(runs[i].mean);
    spot.covariance_k2 = flat(factors[i] * runs[i].covariance);
    for (int s = 0; s < settings; ++s)
      spot.counted.push_back(counted_readings(from.celsius, windows, panel, moments, s));
    together.spots.push_back(std::move(spot));
  }
  const auto level = tables.empty() ? Posterior::Joint{} : tables.level.joint();
  together.level_c = tables.empty()
                         ? std::vector<double>(static_cast<std::size_t>(settings), missing)
                         : numbers(level.mean);
  together.level_covariance_k2 = flat(level.covariance);
  together.level_probe_sd_k = level_uncertainty_k(panel, moments) / half_widths_per_sd;
  if (tables.dial_gap) {
    const auto gap = tables.dial_gap->joint();
    together.dial_gap_k = numbers(gap.mean);
    together.dial_gap_covariance_k2 = flat(gap.covariance);
  }
  for (int s = 0; s < settings; ++s)
    together.outside_c.push_back(
        panel.outside.empty() ? missing
                              : counted_readings(panel.outside, windows, panel, moments, s).mean_c);
  return together;
}

}  // namespace pitwright::call
