#include "call/spread.h"

#include <algorithm>
#include <cmath>

#include "call/words.h"
#include "numeric/random.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

using numeric::Interval;

constexpr int draws = 401;
constexpr double share_for_members = 0.2;  // of the error: which pair is widest

/// How far `error`, shared by all pairs, widens a probe's own 95 % range.
double widening(const Tables& tables, double error) {
  const numeric::NormalMixture normal{{{1.0, 0.0, 1.0}}};
  return numeric::upper_quantile(normal, 0.5 * sidak(error, tables.all_pairs)) /
         numeric::upper_quantile(normal, 0.025);
}

/// Range of first minus second at a setting, widened by the two probes.
Interval widened(const Tables& tables, const Panel& panel, std::size_t pair, int setting,
                 double error) {
  const auto law = *tables.differences[pair].at(setting);
  const auto range = numeric::central_interval(law, sidak(error, tables.all_pairs));
  const double center = numeric::mean(law);
  const double u = widening(tables, error) * pair_uncertainty_k(panel, tables.pairs[pair]);
  return {center - std::hypot(center - range.low, u), center + std::hypot(range.high - center, u)};
}

/// Simultaneous ranges of all pairs at a setting; empty where it was not counted.
std::vector<Interval> all_widened(const Tables& tables, const Panel& panel, int setting,
                                  double error) {
  std::vector<Interval> ranges;
  for (std::size_t k = 0; k < tables.pairs.size(); ++k) {
    if (!tables.differences[k].has(setting)) return {};
    ranges.push_back(widened(tables, panel, k, setting, error));
  }
  return ranges;
}

/// Range of a maximum over pairs and both their directions.
Interval spread_range(const std::vector<Interval>& ranges) {
  Interval result{0.0, 0.0};
  for (const auto& r : ranges) {
    result.low = std::max({result.low, r.low, -r.high});
    result.high = std::max({result.high, r.high, -r.low});
  }
  return result;
}

/// Draws of the spread at every setting: [setting][draw].
std::vector<std::vector<double>> spread_draws(const Tables& tables, const std::vector<int>& settings) {
  std::vector<int> spots;
  for (const auto& [i, j] : tables.pairs) {
    spots.push_back(i);
    spots.push_back(j);
  }
  std::ranges::sort(spots);
  spots.erase(std::ranges::unique(spots).begin(), spots.end());
  const auto n = std::ssize(spots), count = std::ssize(settings);
  std::vector<Eigen::MatrixXd> runs(static_cast<std::size_t>(count), Eigen::MatrixXd(n, draws));
  for (int i = 0; i < n; ++i) {
    const int spot = spots[static_cast<std::size_t>(i)];
    numeric::Random random(20260502, static_cast<std::uint64_t>(spot));  // any fixed seed
    for (int d = 0; d < draws; ++d) {
      const auto beta = tables.runs[static_cast<std::size_t>(spot)].draw(random);
      for (int s = 0; s < count; ++s)
        runs[static_cast<std::size_t>(s)](i, d) = beta(settings[static_cast<std::size_t>(s)]);
    }
  }
  std::vector<std::vector<double>> spreads;
  for (auto& r : runs) {
    const Eigen::VectorXd means = r.rowwise().mean();
    r.colwise() -= means;
    const Eigen::VectorXd variances = r.rowwise().squaredNorm() / draws;
    const double scatter = (means.array() - means.mean()).square().sum() / std::max(1.0, static_cast<double>(n - 1));
    const double true_scatter = std::max(0.0, scatter - variances.mean());
    for (int i = 0; i < n; ++i) {
      // Few spots cannot tell their own scatter; they are left as they are.
      const double keep = n < 4 ? 1.0 : true_scatter / (true_scatter + variances(i));
      r.row(i) = r.row(i) * std::sqrt(keep);
      r.row(i).array() += means.mean() + keep * (means(i) - means.mean());
    }
    auto& spread = spreads.emplace_back();
    for (int d = 0; d < draws; ++d) spread.push_back(r.col(d).maxCoeff() - r.col(d).minCoeff());
  }
  return spreads;
}

}  // namespace

std::optional<Estimate> spread_at(const Tables& tables, const Panel& panel, int setting,
                                  double error) {
  const auto ranges = all_widened(tables, panel, setting, error);
  if (ranges.empty()) return std::nullopt;
  const auto range = spread_range(ranges);
  const double value = series::median(spread_draws(tables, {setting}).front());
  return Estimate{std::clamp(value, range.low, range.high), range.low, range.high};
}

std::optional<Estimate> spread_change(const Tables& tables, const Panel& panel, int from, int to,
                                      double error) {
  const double members_error = 0.5 * share_for_members * error;
  const auto at_from = all_widened(tables, panel, from, members_error);
  const auto at_to = all_widened(tables, panel, to, members_error);
  if (at_from.empty() || at_to.empty()) return std::nullopt;
  const auto from_range = spread_range(at_from), to_range = spread_range(at_to);
  const double change_error = sidak((1.0 - share_for_members) * error, tables.all_pairs);
  Interval range{HUGE_VAL, -HUGE_VAL};
  for (std::size_t k = 0; k < tables.pairs.size(); ++k) {
    // Both directions: first hotter than second, and the other way round.
    const bool from_up = at_from[k].high >= from_range.low, from_down = -at_from[k].low >= from_range.low;
    const bool to_up = at_to[k].high >= to_range.low, to_down = -at_to[k].low >= to_range.low;
    if (!from_up && !from_down && !to_up && !to_down) continue;
    const auto change =
        numeric::central_interval(*tables.differences[k].change(from, to), change_error);
    if (from_up) range.low = std::min(range.low, change.low);
    if (from_down) range.low = std::min(range.low, -change.high);
    if (to_up) range.high = std::max(range.high, change.high);
    if (to_down) range.high = std::max(range.high, -change.low);
  }
  range.low = std::max(range.low, to_range.low - from_range.high);
  range.high = std::min(range.high, to_range.high - from_range.low);
  const auto spreads = spread_draws(tables, {from, to});
  std::vector<double> changes;
  for (std::size_t d = 0; d < spreads[0].size(); ++d) changes.push_back(spreads[1][d] - spreads[0][d]);
  return Estimate{std::clamp(series::median(changes), range.low, range.high), range.low, range.high};
}

int widest_pair(const Tables& tables, int setting) {
  int widest = -1;
  double most = -1.0;
  for (int k = 0; k < std::ssize(tables.pairs); ++k) {
    const auto law = tables.differences[static_cast<std::size_t>(k)].at(setting);
    if (!law) continue;
    const double size = std::abs(numeric::mean(*law));
    if (size > most) {
      most = size;
      widest = k;
    }
  }
  return widest;
}

}  // namespace pitwright::call
