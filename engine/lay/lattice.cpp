#include "lay/lattice.h"

namespace pitwright::lay {

Eigen::MatrixXd Lattice::places() const {
  Eigen::MatrixXd at(nodes(), 3);
  for (int iy = 0; iy < ny; ++iy)
    for (int ix = 0; ix < nx; ++ix) at.row(iy * nx + ix) << x_m(ix), y_m(iy), z_m;
  return at;
}

Eigen::VectorXd Moments::difference_variance(int s, int t) const {
  return (variance(s) + variance(t) -
          2.0 * covariance[static_cast<std::size_t>(s)][static_cast<std::size_t>(t - s)])
      .cwiseMax(0.0);
}

Moments moments_of(const Posterior& posterior, const Eigen::MatrixXd& places) {
  const auto& data = posterior.data();
  const int p = data.settings;
  const auto m = places.rows();
  const Eigen::VectorXd zero = Eigen::VectorXd::Zero(m);
  Moments moments{std::vector(static_cast<std::size_t>(p), zero), {}, {}, zero};
  for (int s = 0; s < p; ++s)
    moments.covariance.emplace_back(static_cast<std::size_t>(p - s), zero);
  const Eigen::MatrixXd level_xi = scaled(data, data.places).transpose() * data.level_share;
  const Eigen::VectorXd reach2 =
      (scaled(data, places).rowwise() - level_xi.col(0).transpose()).rowwise().squaredNorm();
  for (const auto& [weight, solved] : posterior.nodes()) {
    const auto& shape = solved.shape;
    const auto targets = targets_at(data, shape, places, Against::level);
    const double local2 = shape.local_k * shape.local_k;
    auto& mean = moments.node_mean.emplace_back();
    for (int s = 0; s < p; ++s) {
      mean.emplace_back(means(data, solved, targets, s).array() - data.unplaced_k(s));
      moments.mean[static_cast<std::size_t>(s)] += weight * mean.back();
    }
    for (int s = 0; s < p; ++s)
      for (int t = s; t < p; ++t) {
        auto& sum =
            moments.covariance[static_cast<std::size_t>(s)][static_cast<std::size_t>(t - s)];
        sum += weight *
               (covariances(data, solved, targets, s, t) +
                mean[static_cast<std::size_t>(s)].cwiseProduct(mean[static_cast<std::size_t>(t)]));
        sum.array() += weight * (shape.coupling(s == t) * local2 + data.unplaced_error(s, t));
      }
    moments.prior_variance += weight * (targets.own + shape.tilt_k * shape.tilt_k * reach2);
    moments.prior_variance.array() += weight * local2;
  }
  for (int s = 0; s < p; ++s)
    for (int t = s; t < p; ++t)
      moments.covariance[static_cast<std::size_t>(s)][static_cast<std::size_t>(t - s)] -=
          moments.mean[static_cast<std::size_t>(s)].cwiseProduct(
              moments.mean[static_cast<std::size_t>(t)]);
  return moments;
}

}  // namespace pitwright::lay
