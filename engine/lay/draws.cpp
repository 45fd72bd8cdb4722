#include "lay/draws.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

namespace pitwright::lay {
namespace {

constexpr int wanted = 192;
constexpr int coarse_x = 12, coarse_y = 8;

/// Coarse nodes run from the first to the last node of the lattice.
Eigen::MatrixXd coarse_places(const std::vector<Lattice>& grates) {
  Eigen::MatrixXd at(std::ssize(grates) * coarse_x * coarse_y, 3);
  Eigen::Index row = 0;
  for (const auto& g : grates)
    for (int iy = 0; iy < coarse_y; ++iy)
      for (int ix = 0; ix < coarse_x; ++ix)
        at.row(row++) << g.x_m(0) + ix * (g.x_m(g.nx - 1) - g.x_m(0)) / (coarse_x - 1),
            g.y_m(0) + iy * (g.y_m(g.ny - 1) - g.y_m(0)) / (coarse_y - 1), g.z_m;
  return at;
}

/// Bilinear weights from `coarse` to `fine` evenly spaced nodes: fine x coarse.
Eigen::MatrixXd bilinear(int fine, int coarse) {
  Eigen::MatrixXd weights = Eigen::MatrixXd::Zero(fine, coarse);
  for (int i = 0; i < fine; ++i) {
    const double at = fine > 1 ? static_cast<double>(i) * (coarse - 1) / (fine - 1) : 0.0;
    const int low = std::min(static_cast<int>(at), coarse - 2);
    weights(i, low) = 1.0 - (at - low);
    weights(i, low + 1) = at - low;
  }
  return weights;
}

Eigen::MatrixXd normals(Eigen::Index rows, Eigen::Index columns, numeric::Random& random) {
  Eigen::MatrixXd z(rows, columns);
  for (Eigen::Index j = 0; j < columns; ++j)
    for (Eigen::Index i = 0; i < rows; ++i) z(i, j) = random.normal();
  return z;
}

Eigen::MatrixXd lower_factor(Eigen::MatrixXd covariance) {
  const double jitter = 1e-9 * covariance.diagonal().maxCoeff() + 1e-12;
  covariance.diagonal().array() += jitter;
  return Eigen::LLT<Eigen::MatrixXd>(covariance).matrixL();
}

/// Draws with covariance A kron F F': a common one and one a setting.
std::vector<Eigen::MatrixXd> coupled(const Eigen::MatrixXd& F, const Shape& shape, int settings,
                                     int draws, numeric::Random& random) {
  const Eigen::MatrixXd z = normals(F.cols(), draws * (settings + 1), random);
  const Eigen::MatrixXd all = F.triangularView<Eigen::Lower>() * z;
  std::vector<Eigen::MatrixXd> result;
  for (int s = 0; s < settings; ++s)
    result.emplace_back(std::sqrt(1.0 - shape.own_share) * all.leftCols(draws) +
                        std::sqrt(shape.own_share) * all.middleCols((s + 1) * draws, draws));
  return result;
}

}  // namespace

DrawMaker::DrawMaker(const Posterior& posterior, const std::vector<Lattice>& grates,
                     const std::vector<Moments>& moments, std::uint64_t seed)
    : grates_(grates), moments_(moments) {
  numeric::Random random(seed);
  const auto coarse = coarse_places(grates);
  double below = 0.0;
  for (std::size_t i = 0; i < posterior.nodes().size(); ++i) {
    below += posterior.nodes()[i].weight;
    const int upto = static_cast<int>(std::lround(below * wanted));
    if (upto > count_) nodes_.push_back(make_node(posterior, i, upto - count_, coarse, random));
    count_ = std::max(count_, upto);
  }
  for (int s = 0; s < posterior.data().settings; ++s) {
    level_c_.push_back(posterior.level_c(s));
    level_noise_.emplace_back(posterior.level_sd_k(s) * normals(count_, 1, random));
  }
}

DrawMaker::Node DrawMaker::make_node(const Posterior& posterior, std::size_t index, int draws,
                                     const Eigen::MatrixXd& coarse, numeric::Random& random) const {
  const auto& data = posterior.data();
  const auto& solved = posterior.nodes()[index].solved;
  const auto& shape = solved.shape;
  const int n = data.spots(), p = data.settings;
  Eigen::MatrixXd all(coarse.rows() + n, 3);
  all << coarse, data.places;
  const Eigen::MatrixXd xi = scaled(data, all);
  const Eigen::MatrixXd F =
      lower_factor(shape.size_k * shape.size_k * correlations(shape, all, all));
  auto h = coupled(F, shape, p, draws, random);
  if (std::isfinite(shape.tilt_k)) {
    const auto slopes =
        coupled(shape.tilt_k * Eigen::MatrixXd::Identity(3, 3), shape, p, draws, random);
    for (std::size_t s = 0; s < h.size(); ++s) h[s] += xi * slopes[s];
  }
  const auto local =
      coupled(shape.local_k * Eigen::MatrixXd::Identity(n, n), shape, p, draws, random);
  Eigen::MatrixXd z = lower_factor(data.error) * normals(data.count(), draws, random);
  for (int a = 0; a < data.count(); ++a) {
    const auto k = static_cast<std::size_t>(a);
    const auto s = static_cast<std::size_t>(data.setting[k]);
    z.row(a) += h[s].row(coarse.rows() + data.spot[k]) + local[s].row(data.spot[k]);
  }
  // What kriging makes of the draw's measurements, at the coarse places and of the level.
  const Eigen::MatrixXd beta = solved.g_inverse * (solved.v_inverse_h.transpose() * z);
  const Eigen::MatrixXd alpha = solved.v_inverse * z - solved.v_inverse_h * beta;
  const auto targets = targets_at(data, shape, coarse, Against::level);
  const auto air = targets_at(data, shape, coarse.topRows(1), Against::nothing);
  const Eigen::VectorXd level_to = air.to_spots.col(0) - targets.to_spots.col(0);
  Node node{index, draws, {}, {}};
  for (int s = 0; s < p; ++s) {
    const auto k = static_cast<std::size_t>(s);
    Eigen::MatrixXd weights = Eigen::MatrixXd::Zero(n + basis, draws);
    Eigen::VectorXd mean_weights = Eigen::VectorXd::Zero(n + basis);
    for (int a = 0; a < data.count(); ++a) {
      const auto ka = static_cast<std::size_t>(a);
      const double coupling = shape.coupling(data.setting[ka] == s);
      weights.row(data.spot[ka]) += coupling * alpha.row(a);
      mean_weights(data.spot[ka]) += coupling * solved.alpha(a);
    }
    weights.bottomRows(basis) = beta.middleRows(basis * s, basis);
    mean_weights.tail(basis) = solved.beta.segment(basis * s, basis);
    const Eigen::RowVectorXd level = data.level_share.transpose() * (h[k].bottomRows(n) + local[k]);
    Eigen::MatrixXd rest = h[k].topRows(coarse.rows()).rowwise() - level;
    rest -= targets.to_spots.transpose() * weights;
    Eigen::VectorXd of_level = (level - level_to.transpose() * weights).transpose();
    of_level.array() += level_to.dot(mean_weights) + data.unplaced_k(s);
    if (data.unplaced_error(s, s) > 0.0) {
      const Eigen::VectorXd e = std::sqrt(data.unplaced_error(s, s)) * normals(draws, 1, random);
      of_level += e;
      rest.rowwise() -= e.transpose();
    }
    node.rest.push_back(std::move(rest));
    node.level.push_back(std::move(of_level));
  }
  return node;
}

Draws DrawMaker::draws(int setting, int grate) const {
  const auto& lattice = grates_[static_cast<std::size_t>(grate)];
  const auto& moments = moments_[static_cast<std::size_t>(grate)];
  const auto s = static_cast<std::size_t>(setting);
  const Eigen::MatrixXd along_x = bilinear(lattice.nx, coarse_x);
  const Eigen::MatrixXd along_y = bilinear(lattice.ny, coarse_y);
  Draws draws{Eigen::MatrixXd(lattice.nodes(), count_), Eigen::VectorXd(count_)};
  int column = 0;
  for (const auto& node : nodes_)
    for (int d = 0; d < node.draws; ++d, ++column) {
      const Eigen::Map<const Eigen::MatrixXd> rest(
          node.rest[s].col(d).data() + static_cast<std::ptrdiff_t>(grate) * coarse_x * coarse_y,
          coarse_x, coarse_y);
      Eigen::Map<Eigen::MatrixXd> fine(draws.run_k.col(column).data(), lattice.nx, lattice.ny);
      fine.noalias() = (along_x * rest) * along_y.transpose();
      draws.run_k.col(column) += moments.node_mean[node.index][s];
      draws.level_c(column) = level_c_[s] + level_noise_[s](column) + node.level[s](d);
    }
  return draws;
}

}  // namespace pitwright::lay
