#include "lay/solve.h"

#include <cmath>
#include <numbers>

#include <Eigen/Cholesky>

#include "base/expects.h"

namespace pitwright::lay {
namespace {

/// Covariance of the observations, errors included.
Eigen::MatrixXd covariance_of(const Data& data, const Shape& shape) {
  const Eigen::MatrixXd between = correlations(shape, data.places, data.places);
  const double size2 = shape.size_k * shape.size_k, local2 = shape.local_k * shape.local_k;
  Eigen::MatrixXd V = data.error;
  for (int b = 0; b < data.count(); ++b) {
    const auto kb = static_cast<std::size_t>(b);
    for (int a = b; a < data.count(); ++a) {
      const auto ka = static_cast<std::size_t>(a);
      double covariance = size2 * between(data.spot[ka], data.spot[kb]);
      if (data.spot[ka] == data.spot[kb]) covariance += local2;
      V(a, b) += shape.coupling(data.setting[ka] == data.setting[kb]) * covariance;
    }
  }
  return V.selfadjointView<Eigen::Lower>();
}

Eigen::MatrixXd trend_rows(const Data& data) {
  const Eigen::MatrixXd xi = scaled(data, data.places);
  Eigen::MatrixXd H = Eigen::MatrixXd::Zero(data.count(), basis * data.settings);
  for (int a = 0; a < data.count(); ++a) {
    const auto k = static_cast<std::size_t>(a);
    H(a, basis * data.setting[k]) = 1.0;
    H.block<1, 3>(a, basis * data.setting[k] + 1) = xi.row(data.spot[k]);
  }
  return H;
}

/// Precision of the slopes, basis * settings square; and the log of its determinant.
Eigen::MatrixXd trend_precision(const Data& data, const Shape& shape, double& log_determinant) {
  const int p = data.settings;
  Eigen::MatrixXd P = Eigen::MatrixXd::Zero(basis * p, basis * p);
  log_determinant = 0.0;
  if (std::isinf(shape.tilt_k)) return P;
  Eigen::MatrixXd A = Eigen::MatrixXd::Constant(p, p, shape.coupling(false));
  A.diagonal().setConstant(1.0 + 1e-9);
  const Eigen::LLT<Eigen::MatrixXd> factor(A);
  const Eigen::MatrixXd inverse = factor.solve(Eigen::MatrixXd::Identity(p, p));
  const double tilt2 = shape.tilt_k * shape.tilt_k;
  for (int s = 0; s < p; ++s)
    for (int t = 0; t < p; ++t)
      for (int k = 1; k < basis; ++k) P(basis * s + k, basis * t + k) = inverse(s, t) / tilt2;
  const double log_a = 2.0 * factor.matrixLLT().diagonal().array().log().sum();
  log_determinant = -3.0 * (log_a + p * std::log(tilt2));
  return P;
}

double log_determinant_of(const Eigen::LLT<Eigen::MatrixXd>& factor) {
  return 2.0 * factor.matrixLLT().diagonal().array().log().sum();
}

}  // namespace

Solved solve(const Data& data, const Shape& shape) {
  expects(data.count() >= 1);
  const auto n = data.count();
  const Eigen::LLT<Eigen::MatrixXd> V(covariance_of(data, shape));
  expects(V.info() == Eigen::Success);
  const Eigen::MatrixXd H = trend_rows(data);
  Solved solved;
  solved.shape = shape;
  solved.v_inverse = V.solve(Eigen::MatrixXd::Identity(n, n));
  solved.v_inverse_h = solved.v_inverse * H;
  double log_precision = 0.0;
  const Eigen::MatrixXd P = trend_precision(data, shape, log_precision);
  const Eigen::LLT<Eigen::MatrixXd> G(H.transpose() * solved.v_inverse_h + P);
  expects(G.info() == Eigen::Success);
  const auto columns = H.cols();
  solved.g_inverse = G.solve(Eigen::MatrixXd::Identity(columns, columns));
  solved.beta = solved.g_inverse * (solved.v_inverse_h.transpose() * data.z);
  solved.alpha = solved.v_inverse * data.z - solved.v_inverse_h * solved.beta;
  solved.q =
      solved.v_inverse - solved.v_inverse_h * solved.g_inverse * solved.v_inverse_h.transpose();
  solved.log_likelihood = -0.5 * (log_determinant_of(V) + log_determinant_of(G) - log_precision +
                                  data.z.dot(solved.alpha));
  return solved;
}

namespace {

/// Covariance of the level with every spot, and of the level with itself (spots with a place only).
struct LevelPart {
  Eigen::VectorXd to_spots;
  double own;
};

LevelPart level_part(const Data& data, const Shape& shape) {
  const double size2 = shape.size_k * shape.size_k, local2 = shape.local_k * shape.local_k;
  const Eigen::VectorXd smooth =
      size2 * (correlations(shape, data.places, data.places) * data.level_share);
  const Eigen::VectorXd to_spots = smooth + local2 * data.level_share;
  return {to_spots, data.level_share.dot(to_spots)};
}

}  // namespace

Targets targets_at(const Data& data, const Shape& shape, const Eigen::MatrixXd& places,
                   Against against) {
  const auto n = data.spots();
  const double size2 = shape.size_k * shape.size_k;
  Targets targets{Eigen::MatrixXd(n + basis, places.rows()),
                  Eigen::VectorXd::Constant(places.rows(), size2)};
  auto to_spots = targets.to_spots.topRows(n);
  to_spots = size2 * correlations(shape, data.places, places);
  targets.to_spots.row(n).setOnes();
  targets.to_spots.bottomRows(3) = scaled(data, places).transpose();
  if (against == Against::nothing) return targets;
  const auto level = level_part(data, shape);
  targets.own -= 2.0 * (to_spots.transpose() * data.level_share);
  targets.own.array() += level.own;
  to_spots.colwise() -= level.to_spots;
  targets.to_spots.row(n).setConstant(data.unplaced_share);
  const Eigen::Vector3d xi = scaled(data, data.places).transpose() * data.level_share;
  targets.to_spots.bottomRows(3).colwise() -= xi;
  return targets;
}

Targets target_mean(const Data& data, const Shape& shape, const Eigen::MatrixXd& places,
                    Against against) {
  const Targets each = targets_at(data, shape, places, against);
  const double m = static_cast<double>(places.rows());
  const double size2 = shape.size_k * shape.size_k;
  const double pairs = size2 * correlations(shape, places, places).sum() / (m * m);
  // own(x) = size^2 - 2 c(x) + level: only the first term is not linear in the place.
  const double own = each.own.mean() - size2 + pairs;
  return {each.to_spots.rowwise().mean(), Eigen::VectorXd::Constant(1, own)};
}

Eigen::VectorXd means(const Data& data, const Solved& solved, const Targets& targets, int setting) {
  Eigen::VectorXd weights = Eigen::VectorXd::Zero(data.spots() + basis);
  for (int a = 0; a < data.count(); ++a) {
    const auto k = static_cast<std::size_t>(a);
    weights(data.spot[k]) += solved.shape.coupling(data.setting[k] == setting) * solved.alpha(a);
  }
  weights.tail(basis) = solved.beta.segment(basis * setting, basis);
  return targets.to_spots.transpose() * weights;
}

Eigen::MatrixXd taken_away(const Data& data, const Solved& solved, int s, int t) {
  const int n = data.spots();
  Eigen::MatrixXd form = Eigen::MatrixXd::Zero(n + basis, n + basis);
  const Eigen::MatrixXd cross = solved.v_inverse_h * solved.g_inverse;
  for (int a = 0; a < data.count(); ++a) {
    const auto ka = static_cast<std::size_t>(a);
    const double from_s = solved.shape.coupling(data.setting[ka] == s);
    const double from_t = solved.shape.coupling(data.setting[ka] == t);
    for (int b = 0; b < data.count(); ++b) {
      const auto kb = static_cast<std::size_t>(b);
      form(data.spot[ka], data.spot[kb]) +=
          from_s * solved.shape.coupling(data.setting[kb] == t) * solved.q(a, b);
    }
    form.block<1, basis>(data.spot[ka], n) += from_s * cross.block<1, basis>(a, basis * t);
    form.block<basis, 1>(n, data.spot[ka]) +=
        from_t * cross.block<1, basis>(a, basis * s).transpose();
  }
  form.bottomRightCorner<basis, basis>() =
      -solved.g_inverse.block<basis, basis>(basis * s, basis * t);
  return form;
}

Eigen::MatrixXd run_covariances(const Data& data, const Solved& solved, const Eigen::MatrixXd& a,
                                const Eigen::MatrixXd& b, int setting) {
  const auto& shape = solved.shape;
  const auto from = targets_at(data, shape, a, Against::level);
  const auto to = targets_at(data, shape, b, Against::level);
  const double size2 = shape.size_k * shape.size_k;
  const double level = level_part(data, shape).own;
  // own(x) = size^2 - 2 c(x) + level, c(x) the covariance of the place's air with the level's.
  const Eigen::ArrayXd of_a = 0.5 * (size2 + level - from.own.array());
  const Eigen::ArrayXd of_b = 0.5 * (size2 + level - to.own.array());
  Eigen::MatrixXd result = size2 * correlations(shape, a, b);
  result.colwise() -= of_a.matrix();
  result.rowwise() -= of_b.matrix().transpose();
  result.array() += level;
  return result -
         from.to_spots.transpose() * (taken_away(data, solved, setting, setting) * to.to_spots);
}

Eigen::VectorXd covariances(const Data& data, const Solved& solved, const Targets& targets, int s,
                            int t) {
  const Eigen::MatrixXd form = taken_away(data, solved, s, t);
  const Eigen::MatrixXd through = form * targets.to_spots;
  return solved.shape.coupling(s == t) * targets.own -
         through.cwiseProduct(targets.to_spots).colwise().sum().transpose();
}

}  // namespace pitwright::lay
