#pragma once

#include <string>
#include <vector>

#include "lay/posterior.h"

namespace pitwright::lay {

/// One grate's lattice: nx times ny cells, node = y * nx + x, at the cells' middles.
struct Lattice {
  std::string grate;
  double x0_m, y0_m, width_m, depth_m, z_m;
  int nx, ny;

  int nodes() const { return nx * ny; }
  double x_m(int ix) const { return x0_m + (ix + 0.5) * width_m / nx; }
  double y_m(int iy) const { return y0_m + (iy + 0.5) * depth_m / ny; }
  Eigen::MatrixXd places() const;  ///< nodes x 3
};

/// Means and covariances of runs at places, all settings together; sd^2 holds what only a spot sees
/// too: what a thermometer put there would show.
struct Moments {
  std::vector<Eigen::VectorXd> mean;                     ///< [setting]
  std::vector<std::vector<Eigen::VectorXd>> covariance;  ///< [s][t - s], t >= s
  std::vector<std::vector<Eigen::VectorXd>> node_mean;   ///< [posterior node][setting]
  Eigen::VectorXd prior_variance;                        ///< of a run before any measurement

  Eigen::VectorXd variance(int s) const { return covariance[static_cast<std::size_t>(s)][0]; }
  /// Variance of the run at t less the run at s. Pre: s < t.
  Eigen::VectorXd difference_variance(int s, int t) const;
};

/// Cost: places x (spots + 4)^2 a pair of settings and node.
Moments moments_of(const Posterior& posterior, const Eigen::MatrixXd& places);

}  // namespace pitwright::lay
