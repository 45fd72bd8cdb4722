#include "call/leaks.h"

#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "call/errors_model.h"

namespace pitwright::call {
namespace {

constexpr std::array leak_lags_s{480.0, 3000.0};
// Scales of the plain solve: drift and re-setting about as large as the noise of a block.
constexpr Ratios plain{1.0, 0.5};

/// Level at each of the windows' settings; 0 where it has no block (its rows are empty too).
Eigen::VectorXd levels(const std::vector<Block>& blocks, const Panel& panel, const Windows& windows,
                       const Eigen::VectorXd& level) {
  const auto rows = settling_rows(blocks, panel, windows, {.lag_s = windows.lag_s});
  // A setting without a block has an empty column: no level is asked of it.
  Eigen::MatrixXd counted(rows.rows(), 0);
  std::vector<Eigen::Index> setting_of;
  for (Eigen::Index k = 0; k < rows.cols(); ++k) {
    if (rows.col(k).cwiseAbs().maxCoeff() == 0.0) continue;
    counted.conservativeResize(Eigen::NoChange, counted.cols() + 1);
    counted.rightCols(1) = rows.col(k);
    setting_of.push_back(k);
  }
  const auto solved = solve(factor(layout_of(blocks), plain), counted, level);
  Eigen::VectorXd result = Eigen::VectorXd::Zero(rows.cols());
  for (std::size_t i = 0; i < setting_of.size(); ++i)
    result(setting_of[i]) = solved.beta(static_cast<Eigen::Index>(i), 0);
  return result;
}

/// Mean of the finite values of the blocks at each setting that has one.
std::map<int, double> setting_means(const std::vector<Block>& blocks,
                                    const Eigen::VectorXd& values) {
  std::map<int, std::pair<double, int>> sums;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    const double value = values(static_cast<Eigen::Index>(b));
    if (!std::isfinite(value)) continue;
    auto& [sum, count] = sums[blocks[b].setting];
    sum += value;
    ++count;
  }
  std::map<int, double> means;
  for (const auto& [setting, sum] : sums) means[setting] = sum.first / sum.second;
  return means;
}

}  // namespace

LeakPriors level_leak_priors(const std::vector<Block>& blocks, const Eigen::VectorXd& level,
                             const std::optional<Eigen::VectorXd>& dial_gap) {
  constexpr double held_share = 0.35;  // of the level's change: a dial that moves less is held
  if (!dial_gap) return of_any_level;
  const auto levels_of = setting_means(blocks, level);
  const auto dials_of = setting_means(blocks, level + *dial_gap);
  double largest = 0.0, dial_moved = 0.0;
  for (const auto& [a, level_a] : levels_of) {
    for (const auto& [b, level_b] : levels_of) {
      const double moved = std::abs(level_b - level_a);
      if (moved <= largest || !dials_of.contains(a) || !dials_of.contains(b)) continue;
      largest = moved;
      dial_moved = std::abs(dials_of.at(b) - dials_of.at(a));
    }
  }
  if (largest == 0.0) return of_any_level;
  return dial_moved < held_share * largest ? of_a_held_level : of_an_open_level;
}

Eigen::MatrixXd level_leaks(const std::vector<Block>& blocks, const Panel& panel,
                            const Windows& windows, const Eigen::VectorXd& level) {
  return leaks_between(blocks, panel, windows, levels(blocks, panel, windows, level));
}

Eigen::MatrixXd leaks_between(const std::vector<Block>& blocks, const Panel& panel,
                              const Windows& windows, const Eigen::VectorXd& at) {
  Eigen::MatrixXd leaks(std::ssize(blocks), std::ssize(leak_lags_s));
  for (std::size_t lag = 0; lag < leak_lags_s.size(); ++lag) {
    const Settling slow{.lag_s = leak_lags_s[lag]};
    leaks.col(static_cast<Eigen::Index>(lag)) = -settling_rows(blocks, panel, windows, slow) * at;
  }
  for (int b = 0; b < leaks.rows(); ++b)
    leaks.row(b).array() += at(blocks[static_cast<std::size_t>(b)].setting);
  return leaks;
}

}  // namespace pitwright::call
