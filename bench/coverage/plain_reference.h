#pragma once

#include <vector>

#include <Eigen/Core>

namespace pitwright::bench {

/// Block means of one burn, as the plain reference sees them.
/// Shapes: middle_h, stretch, setting have n entries; values is n x series.
struct PlainBlocks {
  std::vector<double> middle_h;  ///< [h] since the first block's middle
  std::vector<int> stretch;      ///< adjacent stints of one setting are one stretch
  std::vector<int> setting;
  Eigen::MatrixXd values;  ///< degF, so that the priors' scales read as published below
};

struct PlainChange {
  int series, from, to;
  double value, low, high;
};

/// The peer that the call is measured against: flat setting effects + one error a stretch (s) + a
/// random walk (q) + block noise (g), REML on a log-spaced grid of q 0.05-15 (11 values), g 0.1-10
/// (9), s 0 and 0.1-6 (10 in all), half-t4 priors of scale 3, 3 and 1 degF; the walk starts 0.1 h
/// before the first block; the 95 % interval is that of the mixture of normals. Written apart from
/// engine/call and kept plain on purpose.
/// Source: our own definition of the peer; REML: Patterson & Thompson, Biometrika 58 (1971), from
/// memory.
std::vector<PlainChange> plain_reference(const PlainBlocks& blocks);

}  // namespace pitwright::bench
