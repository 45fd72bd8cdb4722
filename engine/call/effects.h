#pragma once

#include <vector>

#include <Eigen/Core>

#include "call/errors_model.h"
#include "numeric/mixture.h"
#include "numeric/random.h"

namespace pitwright::call {

/// How finely the unknown scales are integrated. All steps are in logarithms; ratios are q/g and
/// s/g, each with a node at zero below `ratio_low`. effects_test shows that halving the steps and
/// widening the spans moves no range by 1 %.
struct ScaleGrid {
  double ratio_step = 0.75;
  double ratio_low = -3.0;  ///< ln of the smallest ratio that is not zero
  double ratio_high = 4.5;
  double noise_low = -4.0;  ///< ln of the smallest g [K]
  double noise_high = 2.75;
  double noise_step_sds = 1.5;  ///< step of ln g, in its sd 1 / sqrt(2 (m - p)); at most ratio_step
};

/// What nobody knows about the errors before the burn: half-t with 4 degrees of freedom for the
/// scales, normal about zero for the coefficients of the layout's nuisances.
struct ScalePriors {
  double drift_k = 3.0 / 1.8;
  double noise_k = 3.0 / 1.8;
  double resetting_k = 1.0 / 1.8;
  std::vector<double> nuisance_sd = {};  ///< one a nuisance; empty: none of them acts here
};

/// Coefficients of the nuisances: at most two.
using Nuisances = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, 2, 1>;
using NuisanceAxes = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, 2, 2>;

class Effects;

/// What one quantity's block means say about the settings: weights on the grid of scales and lags.
class Posterior {
 public:
  /// The law of sum_j contrast[j] beta[j]: merged to about a hundred normals.
  /// Pre: contrast has one entry a setting and is not all zero.
  numeric::NormalMixture law(const Eigen::VectorXd& contrast) const;

  /// Mean and covariance of all the settings' effects together.
  struct Joint {
    Eigen::VectorXd mean;
    Eigen::MatrixXd covariance;
  };
  Joint joint() const;

  /// A draw of all the settings' effects together.
  Eigen::VectorXd draw(numeric::Random& random) const;

  /// A few scales that stand for the whole law: chosen at evenly spaced ranks of the variance of
  /// `contrast`; equal weights.
  std::vector<Scales> typical_scales(const Eigen::VectorXd& contrast, int count) const;

 private:
  friend class Effects;
  /// The nuisances' coefficients at a node, in axes where they are independent: given g, the i-th
  /// is normal with mean (pull / g^2) / (1 + information / g^2) and variance 1 / (1 + information /
  /// g^2).
  struct Leaning {
    Nuisances information, pull;
    NuisanceAxes axes;  ///< coefficients = axes x independent ones
    double mean(int i, double g2) const { return pull(i) / (g2 + information(i)); }
    double variance(int i, double g2) const { return g2 / (g2 + information(i)); }
    double log_evidence(double g2) const;
  };
  struct Entry {
    int node, first_noise, first_weight, count;  ///< weights of a node's values of g, in a row
    double weight, cumulative;                   ///< of the node
  };
  /// A contrast at a node without the nuisances: its mean, and its variance over g^2; and what each
  /// independent nuisance would add to it.
  struct Place {
    double mean, unit_variance, log_unit_sd;
    Nuisances reach;
  };
  Place at(std::size_t entry, const Eigen::VectorXd& contrast) const;

  const Effects* effects_ = nullptr;
  int quantity_ = 0;
  std::vector<Entry> entries_;
  std::vector<Leaning> leanings_;  ///< one an entry; empty where no nuisance acts
  std::vector<double> weights_;
};

/// The model of the call, solved on its grid for quantities that share blocks:
///   y = X beta + Z c + u[stretch] + w(t) + e
/// with re-setting errors u (sd s), drift w (random walk, q^2 per hour), block noise e (sd g), and
/// the layout's nuisances Z. Flat prior on beta, half-t priors on q, g, s, normal priors on c
/// (integrated in closed form); the restricted likelihood weighs the nodes. One Cholesky factor a
/// pair of ratios serves all quantities, lags and values of g.
/// Cost:   (ratios)^2 m^3 / 3 + (ratios)^2 m^2 (lags p + quantities).
/// Source: docs/methods/call.md.
class Effects {
 public:
  /// Shapes: y m x quantities. Pre: m >= 1, every setting has some share in some block.
  Effects(Layout layout, Eigen::MatrixXd y, const ScaleGrid& grid = {});
  Effects(const Effects&) = delete;
  Effects& operator=(const Effects&) = delete;

  Posterior posterior(int quantity, const ScalePriors& priors = {}) const;
  const Layout& layout() const { return layout_; }
  const Eigen::MatrixXd& y() const { return y_; }

 private:
  friend class Posterior;
  struct Node {
    int drift, resetting, lag;  ///< grid indexes; 0 is the ratio zero
    Ratios ratios;
    Solved solved;
    Eigen::MatrixXd covariance_factor;  ///< lower Cholesky of unit_covariance
  };
  void make_nodes();
  /// Log of likelihood, prior and grid measure at [node][noise]; `leanings` one a node.
  std::vector<double> log_weights(int quantity, const ScalePriors& priors,
                                  std::vector<Posterior::Leaning>& leanings) const;
  static Posterior::Leaning leaning(const Solved& solved, int quantity,
                                    const std::vector<double>& sd);

  Layout layout_;
  Eigen::MatrixXd y_;
  std::vector<Node> nodes_;
  std::vector<double> log_noise_, noise_variance_;  ///< ln g and g^2 of each noise node
  std::vector<double> ratios_;                      ///< zero, then the logarithmic nodes
  double ratio_step_;
};

}  // namespace pitwright::call
