#pragma once

#include <optional>
#include <vector>

#include <Eigen/Core>

#include "call/blocks.h"

namespace pitwright::call {

/// A tilt as a contrast of the spots: least-squares slope of the runs on a coordinate times the
/// measured extent.
struct TiltContrast {
  Axis axis;
  double extent_m;
  std::vector<int> spots;      ///< of Panel::spots
  std::vector<double> shares;  ///< one per spot; they sum to 0
};

/// The tilts that the level spots with known places can show: axes with at least two distinct
/// coordinates (1 cm apart).
std::vector<TiltContrast> tilt_contrasts(const Panel& panel, const Moments& moments);

/// Block means of everything the call asks about [degC or K]; NaN where a block has too little of a
/// channel. Every mean of a difference is over moments at which both sides were read.
/// Shapes: m blocks; runs and readings m x Panel::spots, tilts m x contrasts.
struct BlockMeans {
  Eigen::VectorXd level;
  Eigen::MatrixXd runs;      ///< spot minus level
  Eigen::MatrixXd readings;  ///< runs plus level: a gap in one spot cannot catch a part of a swing
  Eigen::MatrixXd tilts;
  std::optional<Eigen::VectorXd> dial_gap;  ///< dial minus level
};

BlockMeans block_means(const Panel& panel, const Moments& moments, const std::vector<Block>& blocks,
                       const std::vector<TiltContrast>& tilts);

}  // namespace pitwright::call
