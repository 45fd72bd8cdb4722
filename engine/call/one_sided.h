#pragma once

#include <vector>

#include <Eigen/Core>

#include "call/blocks.h"
#include "call/windows.h"

namespace pitwright::call {

/// For one quantity at each setting: the lid (of Windows::lids) that spoils all it has there; -1
/// where none does.
using SpoilingLids = std::vector<int>;

/// Takes out of every quantity the blocks in which spots that came back slowly from a lid move it
/// by more than Windows::lid_goal_k. A quantity is a sum of spots; only those in which the slow
/// spots weigh unequally or at all are touched, the others keep counting. Where that would leave
/// nothing of a setting, its blocks stay and the lid is told as spoiling it.
/// Shapes: y blocks x quantities (becomes NaN where it is left out); weights quantities x spots;
/// result one a quantity, one a setting.
std::vector<SpoilingLids> leave_out_slow_spots(const std::vector<Block>& blocks, const Panel& panel,
                                               const Windows& windows,
                                               const Eigen::MatrixXd& weights, Eigen::MatrixXd& y);

}  // namespace pitwright::call
