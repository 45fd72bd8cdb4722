#pragma once

#include <vector>

#include <Eigen/Core>

namespace pitwright::lay {

/// The unknown scales of a lay's law, at one set of values.
///   h_s(x) = c_s + b_s . xi(x) + f_s(x),   xi = (x - middle) / extent, c flat
///   cov(b_s, b_t) = tilt^2 A_st,   cov(f_s(x), f_t(y)) = size^2 A_st M(x - y)
///   A_st = 1 - own_share + own_share [s = t]
/// M is Matern with smoothness 5/2 and a length an axis. At a spot comes `local`: what only it sees
/// (a wall beside it, radiation), with covariance local^2 A_st. An infinite tilt is a flat trend.
struct Shape {
  double size_k = 1.0, tilt_k = 1.0, local_k = 0.0;
  Eigen::Array3d length_m{1.0, 1.0, 1.0};
  double own_share = 0.0;

  double coupling(bool same_setting) const { return same_setting ? 1.0 : 1.0 - own_share; }
};

/// Matern correlation with smoothness 5/2 at scaled distance r:
///   (1 + a + a^2 / 3) exp(-a),   a = sqrt(5) r
/// Source: Rasmussen & Williams, Gaussian Processes for Machine Learning (2006), eq. 4.17.
double matern_5_2(double r);

/// M between all rows of two sets of places [m]. Shapes: a m x 3, b n x 3; result m x n.
Eigen::MatrixXd correlations(const Shape& shape, const Eigen::MatrixXd& a,
                             const Eigen::MatrixXd& b);

/// What was measured, ready for the model: one row an observation (a spot at a setting).
struct Data {
  Eigen::MatrixXd places;         ///< spots x 3 [m]
  Eigen::Array3d middle, extent;  ///< of the chamber
  int settings = 1;
  std::vector<int> spot, setting;  ///< of each observation
  Eigen::VectorXd z;               ///< run as measured [K]
  Eigen::MatrixXd error;           ///< covariance of the spots' own errors
  Eigen::VectorXd level_share;     ///< of each spot in the level; sums to 1 less `unplaced_share`
  double unplaced_share = 0.0;     ///< of spots without a position
  Eigen::VectorXd unplaced_k;      ///< a setting: their part of the mean measured run
  Eigen::MatrixXd unplaced_error;  ///< settings x settings

  int spots() const { return static_cast<int>(places.rows()); }
  int count() const { return static_cast<int>(z.size()); }
};

/// xi of places. Shapes: m x 3.
Eigen::MatrixXd scaled(const Data& data, const Eigen::MatrixXd& places);

}  // namespace pitwright::lay
