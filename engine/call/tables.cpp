#include "call/tables.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "call/leaks.h"

namespace pitwright::call {
namespace {

/// Above this many level spots only pairs among the most extreme ones can hold the spread.
constexpr int all_pairs_up_to = 10;
constexpr int extremes = 5;
/// Of the swing: scale of the level's drift and block noise before the burn; docs/methods/call.md.
constexpr double wander_share = 0.12;
/// A tilt's errors against those of independent spots: what a lever or the walls do to one spot
/// they do in part to the spot beside it; docs/methods/call.md.
constexpr double neighbors_err_together = 1.25;

/// Pairs that may be hottest and coolest: all of them where spots are few, else those among the
/// spots that run hottest or coolest over the whole burn.
std::vector<std::pair<int, int>> candidate_pairs(const Moments& moments,
                                                 const Eigen::MatrixXd& runs) {
  std::vector<int> spots = moments.level_spots;
  if (std::ssize(spots) > all_pairs_up_to) {
    std::ranges::stable_sort(spots, {}, [&](int i) { return runs.col(i).mean(); });
    spots.erase(spots.begin() + extremes, spots.end() - extremes);
    std::ranges::sort(spots);
  }
  std::vector<std::pair<int, int>> pairs;
  for (std::size_t i = 0; i < spots.size(); ++i)
    for (std::size_t j = i + 1; j < spots.size(); ++j) pairs.emplace_back(spots[i], spots[j]);
  return pairs;
}

double square(double x) {
  return x * x;
}

/// Every quantity as a sum of spots, in the order of y: level, runs, readings, tilts, pairs, dial
/// gap.
Eigen::MatrixXd weights_of(const Tables& tables, const Moments& moments, Eigen::Index spots,
                           bool dial) {
  Eigen::RowVectorXd level = Eigen::RowVectorXd::Zero(spots);
  for (const int i : moments.level_spots)
    level(i) = 1.0 / static_cast<double>(moments.level_spots.size());
  const auto tilts = std::ssize(tables.tilt_contrasts), pairs = std::ssize(tables.pairs);
  Eigen::MatrixXd w = Eigen::MatrixXd::Zero(1 + 2 * spots + tilts + pairs + (dial ? 1 : 0), spots);
  w.row(0) = level;
  w.middleRows(1, spots).setIdentity();
  w.middleRows(1, spots).rowwise() -= level;
  w.middleRows(1 + spots, spots).setIdentity();
  for (Eigen::Index k = 0; k < tilts; ++k) {
    const auto& tilt = tables.tilt_contrasts[static_cast<std::size_t>(k)];
    for (std::size_t i = 0; i < tilt.spots.size(); ++i)
      w(1 + 2 * spots + k, tilt.spots[i]) = tilt.shares[i];
  }
  for (Eigen::Index k = 0; k < pairs; ++k) {
    const auto [i, j] = tables.pairs[static_cast<std::size_t>(k)];
    w(1 + 2 * spots + tilts + k, i) = 1.0;
    w(1 + 2 * spots + tilts + k, j) = -1.0;
  }
  if (dial) w.bottomRows(1) = -level;
  return w;
}

/// By quantity; of the spread, whatever spoils one of its pairs.
Tables::Spoiling spoiling_of(const std::vector<SpoilingLids>& all, Eigen::Index spots,
                             Eigen::Index tilts, Eigen::Index pairs) {
  Tables::Spoiling out;
  const auto at = [&](Eigen::Index k) { return all.begin() + k; };
  out.level = all.front();
  out.runs = {at(1), at(1 + spots)};
  out.tilts = {at(1 + 2 * spots), at(1 + 2 * spots + tilts)};
  out.dial_gap = all.back();
  out.spread.assign(all.front().size(), -1);
  for (Eigen::Index k = 0; k < pairs; ++k) {
    const auto& pair = *at(1 + 2 * spots + tilts + k);
    for (std::size_t s = 0; s < pair.size(); ++s) out.spread[s] = std::max(out.spread[s], pair[s]);
  }
  return out;
}

/// How strongly independent errors of the spots act on a tilt.
double share_size(const TiltContrast& tilt) {
  double sum = 0.0;
  for (const double share : tilt.shares) sum += square(share);
  return std::sqrt(sum);
}

ScalePriors leaning(ScalePriors priors, double fast, double slow) {
  priors.nuisance_sd = {fast, slow};
  return priors;
}

/// What is left open in sum w_i T_i: own parts add as squares, shared ones as they are.
class OpenPart {
 public:
  explicit OpenPart(const Panel& panel) : panel_(panel) {}

  void add(int spot, double w) {
    const auto& one = panel_.spots[static_cast<std::size_t>(spot)];
    own_squares_ += square(w * own_uncertainty_k(one));
    shared_ += w * one.shared_k;
  }
  double half_width_k() const { return std::hypot(std::sqrt(own_squares_), shared_); }

 private:
  const Panel& panel_;
  double own_squares_ = 0.0, shared_ = 0.0;
};

}  // namespace

ScalePriors lay_priors(double size) {
  ScalePriors priors;
  priors.drift_k *= size;
  priors.noise_k *= size;
  priors.resetting_k *= size;
  priors.nuisance_sd = {size * of_a_spot.fast, size * of_a_spot.slow};
  return priors;
}

ScalePriors tilt_priors(double size) {
  return lay_priors(neighbors_err_together * size);
}

ScalePriors level_priors(const Swing& swing) {
  ScalePriors priors;
  priors.drift_k = std::max(priors.drift_k, wander_share * swing.size_k);
  priors.noise_k = std::max(priors.noise_k, wander_share * swing.size_k);
  return priors;
}

Tables make_tables(const Panel& panel, const Windows& windows, const Moments& moments,
                   bool only_closed) {
  Tables tables;
  if (moments.level_spots.empty()) return tables;
  tables.blocks = cut_blocks(panel, windows, moments, only_closed);
  if (tables.blocks.empty()) return tables;
  tables.tilt_contrasts = tilt_contrasts(panel, moments);
  const auto means = block_means(panel, moments, tables.blocks, tables.tilt_contrasts);
  tables.pairs = candidate_pairs(moments, means.runs);
  const auto spots = std::ssize(moments.level_spots);
  tables.all_pairs = static_cast<int>(spots * (spots - 1) / 2);

  const auto n = means.runs.cols(), tilts = means.tilts.cols();
  const auto pairs = std::ssize(tables.pairs);
  const bool dial = means.dial_gap.has_value();
  Eigen::MatrixXd y(means.level.size(), 1 + 2 * n + tilts + pairs + (dial ? 1 : 0));
  y.col(0) = means.level;
  y.middleCols(1, n) = means.runs;
  y.middleCols(1 + n, n) = means.readings;
  y.middleCols(1 + 2 * n, tilts) = means.tilts;
  for (int k = 0; k < pairs; ++k) {
    const auto [i, j] = tables.pairs[static_cast<std::size_t>(k)];
    y.col(1 + 2 * n + tilts + k) = means.runs.col(i) - means.runs.col(j);
  }
  if (dial) y.rightCols(1) = *means.dial_gap;
  tables.spoiling = spoiling_of(
      leave_out_slow_spots(tables.blocks, panel, windows, weights_of(tables, moments, n, dial), y),
      n, tilts, pairs);

  std::vector<ScalePriors> priors(static_cast<std::size_t>(y.cols()), lay_priors(1.0));
  const auto leak = level_leak_priors(tables.blocks, means.level, means.dial_gap);
  const auto of_level = level_priors(windows.swing);
  priors[0] = leaning(of_level, leak.fast, leak.slow);
  auto of_readings = leaning(of_level, std::hypot(leak.fast, of_a_spot.fast),
                             std::hypot(leak.slow, of_a_spot.slow));
  of_readings.resetting_k *= std::numbers::sqrt2;  // the level's and the spot's own
  std::fill_n(priors.begin() + 1 + n, n, of_readings);
  for (int k = 0; k < tilts; ++k)
    priors[static_cast<std::size_t>(1 + 2 * n + k)] =
        tilt_priors(share_size(tables.tilt_contrasts[static_cast<std::size_t>(k)]));
  std::fill_n(priors.begin() + 1 + 2 * n + tilts, pairs, lay_priors(std::numbers::sqrt2));
  const auto leaks = level_leaks(tables.blocks, panel, windows, means.level);
  const auto all = measure(tables.blocks, panel, windows, y, leaks, priors);
  const auto part = [&](Eigen::Index from, Eigen::Index count) {
    return std::vector<Measured>(all.begin() + from, all.begin() + from + count);
  };
  tables.level = all.front();
  tables.runs = part(1, n);
  tables.readings = part(1 + n, n);
  tables.tilts = part(1 + 2 * n, tilts);
  tables.differences = part(1 + 2 * n + tilts, pairs);
  if (dial) tables.dial_gap = all.back();
  return tables;
}

double own_uncertainty_k(const PanelSpot& spot) {
  return std::sqrt(std::max(0.0, square(spot.uncertainty_k) - square(spot.shared_k)));
}

double level_uncertainty_k(const Panel& panel, const Moments& moments) {
  const double n = std::max(1.0, static_cast<double>(moments.level_spots.size()));
  OpenPart open(panel);
  for (const int i : moments.level_spots) open.add(i, 1.0 / n);
  return open.half_width_k();
}

double run_uncertainty_k(const Panel& panel, const Moments& moments, int spot) {
  const double n = static_cast<double>(moments.level_spots.size());
  OpenPart open(panel);
  bool inside = false;
  for (const int i : moments.level_spots) {
    inside = inside || i == spot;
    open.add(i, (i == spot ? 1.0 : 0.0) - 1.0 / n);
  }
  if (!inside) open.add(spot, 1.0);
  return open.half_width_k();
}

double tilt_uncertainty_k(const Panel& panel, const TiltContrast& tilt) {
  OpenPart open(panel);
  for (std::size_t i = 0; i < tilt.spots.size(); ++i) open.add(tilt.spots[i], tilt.shares[i]);
  return open.half_width_k();
}

double pair_uncertainty_k(const Panel& panel, std::pair<int, int> pair) {
  OpenPart open(panel);
  open.add(pair.first, 1.0);
  open.add(pair.second, -1.0);
  return open.half_width_k();
}

}  // namespace pitwright::call
