#include "call/one_sided.h"

#include <algorithm>
#include <cmath>

#include "base/expects.h"
#include "call/recovery.h"

namespace pitwright::call {
namespace {

constexpr double touched_share = 0.5;  ///< of a block that a slow stretch covers: left out

struct Slow {
  int lid, spot;
  double from_s, to_s, short_k;
};

std::vector<Slow> slow_stretches(const Windows& windows) {
  std::vector<Slow> out;
  for (int k = 0; k < std::ssize(windows.lids); ++k) {
    const auto& lid = windows.lids[static_cast<std::size_t>(k)];
    for (const int i : slow_spots(lid)) {
      const auto& spot = lid.spots[static_cast<std::size_t>(i)];
      out.push_back({k, i, lid.from_s, lid.seen_to_s, spot.short_k});
    }
  }
  return out;
}

/// What the slow spots are short of in a block [K], per spot, and by which lid; -1: none.
struct Shortfall {
  Eigen::VectorXd spots;
  int lid = -1;
};

Shortfall shortfall_in(const Block& block, const Panel& panel, const std::vector<Slow>& slow) {
  Shortfall out{Eigen::VectorXd::Zero(std::ssize(panel.spots)), -1};
  const double from_s = panel.start_s + block.first * panel.step_s;
  const double to_s = panel.start_s + block.last * panel.step_s;
  for (const auto& one : slow) {
    const double touched_s = std::min(to_s, one.to_s) - std::max(from_s, one.from_s);
    if (touched_s < touched_share * (to_s - from_s)) continue;
    out.spots(one.spot) -= one.short_k;
    out.lid = one.lid;
  }
  return out;
}

}  // namespace

std::vector<SpoilingLids> leave_out_slow_spots(const std::vector<Block>& blocks, const Panel& panel,
                                               const Windows& windows,
                                               const Eigen::MatrixXd& weights, Eigen::MatrixXd& y) {
  expects(weights.rows() == y.cols() && weights.cols() == std::ssize(panel.spots));
  const auto settings = windows.settings.size();
  std::vector<SpoilingLids> spoiling(static_cast<std::size_t>(y.cols()),
                                     SpoilingLids(settings, -1));
  const auto slow = slow_stretches(windows);
  if (slow.empty()) return spoiling;
  std::vector<Shortfall> short_of;
  for (const auto& block : blocks) short_of.push_back(shortfall_in(block, panel, slow));
  for (Eigen::Index q = 0; q < y.cols(); ++q) {
    const auto is_moved = [&](std::size_t b) {
      return short_of[b].lid >= 0 &&
             std::abs(weights.row(q).dot(short_of[b].spots)) > windows.lid_goal_k;
    };
    std::vector<int> left(settings, 0);
    for (std::size_t b = 0; b < blocks.size(); ++b)
      if (!is_moved(b) && std::isfinite(y(static_cast<Eigen::Index>(b), q)))
        ++left[static_cast<std::size_t>(blocks[b].setting)];
    for (std::size_t b = 0; b < blocks.size(); ++b) {
      if (!is_moved(b)) continue;
      const auto setting = static_cast<std::size_t>(blocks[b].setting);
      if (left[setting] > 0)
        y(static_cast<Eigen::Index>(b), q) = std::nan("");
      else
        spoiling[static_cast<std::size_t>(q)][setting] = short_of[b].lid;
    }
  }
  return spoiling;
}

}  // namespace pitwright::call
