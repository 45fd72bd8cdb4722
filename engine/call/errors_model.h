#pragma once

#include <vector>

#include <Eigen/Core>

namespace pitwright::call {

/// The sizes of the three errors beside the swing.
struct Scales {
  double drift = 0.0;      ///< q [K per square root of an hour]: random walk of the day
  double noise = 1.0;      ///< g [K]: one standard block
  double resetting = 0.0;  ///< s [K]: a lever never comes back exactly, nor does a fire
};

/// The same, in units of the block noise: what the shape of the covariance depends on.
struct Ratios {
  double drift = 0.0;      ///< q / g [1 per square root of an hour]
  double resetting = 0.0;  ///< s / g
};

/// On what the block means of a burn were measured; shared by all quantities.
/// Shapes: m blocks, p settings; hours, stretch, noise have m entries, each of `rows` is m x p.
struct Layout {
  std::vector<double> hours;          ///< middle of each block
  std::vector<int> stretch;           ///< which stretch of one setting it lies in, from 0
  std::vector<double> noise;          ///< variance of its noise, in standard blocks
  std::vector<Eigen::MatrixXd> rows;  ///< share of each setting in each block, one per lag node
  std::vector<double> lag_weights;    ///< chance of each lag node; sum to 1

  /// What may also move the quantities, with unknown coefficients expected near zero; m x r, r may
  /// be 0. See Effects::posterior for their priors.
  Eigen::MatrixXd nuisances;

  int blocks() const { return static_cast<int>(hours.size()); }
  int settings() const { return static_cast<int>(rows.front().cols()); }
};

/// Covariance of the block means over g^2:
///   R = diag(noise) + (s/g)^2 Z Z' + (q/g)^2 C W C,   W[i,j] = min(t_i, t_j) - t_0
/// Z says which stretch a block lies in; C takes off the mean over the blocks, so that the effect
/// of a setting is its level at the burn's average drift. Differences of settings do not see C.
Eigen::MatrixXd relative_covariance(const Layout& layout, Ratios ratios);

/// Generalised least squares of several quantities at once, for one shape of the covariance, with a
/// flat prior on the effects.
/// Shapes: beta p x quantities; unit_covariance p x p (times g^2); squares one per quantity; the
/// nuisances' parts: leverage p x r (what one unit of a nuisance would add to beta), information r
/// x r (times 1 / g^2) and pull r x quantities (times 1 / g^2).
struct Solved {
  Eigen::MatrixXd beta;
  Eigen::MatrixXd unit_covariance;
  Eigen::VectorXd
      squares;  ///< generalised residual sum of squares, times 1 / g^2 to be chi-squared
  double log_determinants;  ///< ln|R| + ln|X' R^-1 X|
  Eigen::MatrixXd leverage, information, pull;
};

/// The lower Cholesky factor L of R = L L'.
Eigen::MatrixXd factor(const Layout& layout, Ratios ratios);

/// Solves with a factor made before. Pre: every setting of the layout has some share in a block.
/// Shapes: y m x quantities; nuisances m x r or empty.
/// Source: the restricted likelihood's parts as in Patterson & Thompson, "Recovery of inter-block
///         information when block sizes are unequal", Biometrika 58 (1971); written out by us.
Solved solve(const Eigen::MatrixXd& lower, const Eigen::MatrixXd& rows, const Eigen::MatrixXd& y,
             const Eigen::MatrixXd& nuisances = {});

}  // namespace pitwright::call
