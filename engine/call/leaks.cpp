#include "call/leaks.h"

#include <array>

#include "call/errors_model.h"

namespace pitwright::call {
namespace {

constexpr std::array leak_lags_s{480.0, 2400.0};
// Scales of the plain solve: drift and re-setting about as large as the noise of a block.
constexpr Ratios plain{1.0, 0.5};

/// Level at each of the windows' settings; 0 where it has no block (its rows are empty too).
Eigen::VectorXd levels(const std::vector<Block>& blocks, const Panel& panel, const Windows& windows,
                       const Eigen::VectorXd& level) {
  Layout layout;
  for (const auto& block : blocks) {
    layout.hours.push_back(block.middle_s / 3600.0);
    layout.stretch.push_back(block.stretch);
    layout.noise.push_back(block.noise);
  }
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
  const auto solved = solve(factor(layout, plain), counted, level);
  Eigen::VectorXd result = Eigen::VectorXd::Zero(rows.cols());
  for (std::size_t i = 0; i < setting_of.size(); ++i)
    result(setting_of[i]) = solved.beta(static_cast<Eigen::Index>(i), 0);
  return result;
}

}  // namespace

Eigen::MatrixXd level_leaks(const std::vector<Block>& blocks, const Panel& panel,
                            const Windows& windows, const Eigen::VectorXd& level) {
  const auto at = levels(blocks, panel, windows, level);
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
