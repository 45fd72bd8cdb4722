#pragma once

#include <vector>

#include <Eigen/Core>

#include "lay/shape.h"

namespace pitwright::lay {

/// Constant and three slopes a setting.
inline constexpr int basis = 4;

/// Universal kriging with a partly known trend, at fixed scales.
///   V = K + error,  H the trend's rows,  P its prior precision (0 where flat)
///   G = H' V^-1 H + P,   beta = G^-1 H' V^-1 z,   alpha = V^-1 (z - H beta)
///   Q = V^-1 - V^-1 H G^-1 H' V^-1
/// Source: Rasmussen & Williams (2006), eqs. 2.41-2.45; Cressie, Statistics for Spatial Data
/// (1993),
///         section 3.4.
struct Solved {
  Shape shape;
  Eigen::MatrixXd v_inverse, v_inverse_h, g_inverse;
  Eigen::VectorXd alpha, beta;
  Eigen::MatrixXd q;
  double log_likelihood = 0.0;  ///< restricted, without terms that no scale changes
};

/// Pre:  data.count() >= 1, every setting has an observation; scales > 0 (local may be 0).
/// Cost: 2 n^3 in the observations.
Solved solve(const Data& data, const Shape& shape);

/// Places to predict, as functionals of h: the air of a place less the level (a run), or h itself
/// (against the level as measured).
struct Targets {
  Eigen::MatrixXd to_spots;  ///< (spots + basis) x targets: covariance with the spots, then trend
  Eigen::VectorXd own;       ///< prior variance without trend, at one setting
};
enum class Against { level, nothing };

/// Single places. Shapes: places m x 3.
Targets targets_at(const Data& data, const Shape& shape, const Eigen::MatrixXd& places,
                   Against against);
/// One target: the mean over the places.
Targets target_mean(const Data& data, const Shape& shape, const Eigen::MatrixXd& places,
                    Against against);

/// Means of targets at a setting.
Eigen::VectorXd means(const Data& data, const Solved& solved, const Targets& targets, int setting);

/// The form whose values are what the data took away of the covariances between settings s and t:
///   cov(x at s, y at t) = A_st prior(x, y) - q(x)' form q(y)
Eigen::MatrixXd taken_away(const Data& data, const Solved& solved, int s, int t);

/// Posterior covariances between the runs at two sets of places at one setting.
/// Shapes: a m x 3, b n x 3; result m x n.
Eigen::MatrixXd run_covariances(const Data& data, const Solved& solved, const Eigen::MatrixXd& a,
                                const Eigen::MatrixXd& b, int setting);

/// Covariances of each target at s with itself at t.
Eigen::VectorXd covariances(const Data& data, const Solved& solved, const Targets& targets, int s,
                            int t);

}  // namespace pitwright::lay
