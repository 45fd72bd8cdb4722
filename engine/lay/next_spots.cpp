#include "lay/next_spots.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

namespace pitwright::lay {
namespace {

constexpr int coarse_x = 8, coarse_y = 6;
constexpr int most_nodes = 6;  ///< of the posterior, evenly chosen

std::vector<Lattice> coarsened(std::vector<Lattice> grates) {
  for (auto& g : grates) {
    g.nx = coarse_x;
    g.ny = coarse_y;
  }
  return grates;
}

Eigen::MatrixXd places_of(const std::vector<Lattice>& grates) {
  Eigen::MatrixXd at(std::ssize(grates) * coarse_x * coarse_y, 3);
  Eigen::Index row = 0;
  for (const auto& g : grates) {
    at.middleRows(row, g.nodes()) = g.places();
    row += g.nodes();
  }
  return at;
}

/// Posterior covariance of two sets of functionals, settings stacked: row = setting * places +
/// place. `prior` is that of the smooth part between them at one setting.
Eigen::MatrixXd joint_covariance(const Data& data, const Solved& solved, const Targets& a,
                                 const Targets& b, const Eigen::MatrixXd& prior) {
  const auto m = a.to_spots.cols(), k = b.to_spots.cols();
  Eigen::MatrixXd all(data.settings * m, data.settings * k);
  for (int s = 0; s < data.settings; ++s)
    for (int t = 0; t < data.settings; ++t)
      all.block(s * m, t * k, m, k) =
          solved.shape.coupling(s == t) * prior -
          a.to_spots.transpose() * (taken_away(data, solved, s, t) * b.to_spots);
  return all;
}

/// What a thermometer adds to the air at its place, settings x settings: a typical spot's errors.
Eigen::MatrixXd probe_error(const Data& data, const Shape& shape) {
  const int p = data.settings;
  Eigen::MatrixXd sum = Eigen::MatrixXd::Zero(p, p), count = sum;
  for (int a = 0; a < data.count(); ++a)
    for (int b = 0; b < data.count(); ++b) {
      const auto ka = static_cast<std::size_t>(a), kb = static_cast<std::size_t>(b);
      if (data.spot[ka] != data.spot[kb]) continue;
      sum(data.setting[ka], data.setting[kb]) += data.error(a, b);
      count(data.setting[ka], data.setting[kb]) += 1.0;
    }
  Eigen::MatrixXd error = sum.cwiseQuotient(count.cwiseMax(1.0));
  for (int s = 0; s < p; ++s)
    for (int t = 0; t < p; ++t)
      error(s, t) += shape.coupling(s == t) * shape.local_k * shape.local_k;
  return error;
}

/// One posterior node with what the probes placed so far would leave of its covariances.
struct Scene {
  double weight;
  Eigen::MatrixXd runs_air;  ///< runs with the candidates' air
  Eigen::MatrixXd air;       ///< candidates' air with itself
  Eigen::MatrixXd error;
  double mean_variance;  ///< of the runs, before any of them
};

Scene scene_of(const Posterior& posterior, const Weighted& node, const Eigen::MatrixXd& places) {
  const auto& data = posterior.data();
  const auto& shape = node.solved.shape;
  const auto runs = targets_at(data, shape, places, Against::level);
  const auto air = targets_at(data, shape, places, Against::nothing);
  const Eigen::MatrixXd between = shape.size_k * shape.size_k * correlations(shape, places, places);
  const Eigen::VectorXd level =
      air.to_spots.topRows(data.spots()).transpose() * data.level_share;  // with each place's air
  Scene scene{node.weight,
              joint_covariance(data, node.solved, runs, air, between.rowwise() - level.transpose()),
              joint_covariance(data, node.solved, air, air, between), probe_error(data, shape),
              0.0};
  for (int s = 0; s < data.settings; ++s)
    scene.mean_variance += covariances(data, node.solved, runs, s, s).mean() / data.settings;
  return scene;
}

std::vector<int> rows_of(Eigen::Index candidate, Eigen::Index places, int settings) {
  std::vector<int> rows;
  for (int s = 0; s < settings; ++s) rows.push_back(static_cast<int>(s * places + candidate));
  return rows;
}

double fall(const Scene& scene, const std::vector<int>& rows) {
  const Eigen::MatrixXd S = scene.air(rows, rows) + scene.error;
  const Eigen::MatrixXd C = scene.runs_air(Eigen::all, rows);
  const Eigen::MatrixXd through = Eigen::LLT<Eigen::MatrixXd>(S).solve(C.transpose());
  return through.cwiseProduct(C.transpose()).sum() / static_cast<double>(C.rows());
}

void place_probe(Scene& scene, const std::vector<int>& rows) {
  const Eigen::LLT<Eigen::MatrixXd> S(scene.air(rows, rows) + scene.error);
  const Eigen::MatrixXd through = S.solve(Eigen::MatrixXd(scene.air(rows, Eigen::all)));
  scene.runs_air -= Eigen::MatrixXd(scene.runs_air(Eigen::all, rows)) * through;
  scene.air -= Eigen::MatrixXd(scene.air(Eigen::all, rows)) * through;
}

}  // namespace

std::vector<NextSpot> next_spots(const Posterior& posterior, const std::vector<Lattice>& grates,
                                 int count) {
  const auto coarse = coarsened(grates);
  const auto places = places_of(coarse);
  const int p = posterior.data().settings;
  std::vector<double> rank;
  for (std::size_t i = 0; i < posterior.nodes().size(); ++i) rank.push_back(static_cast<double>(i));
  std::vector<Scene> scenes;
  double all = 0.0;
  for (const auto& node : fewer(posterior.nodes(), rank, most_nodes)) {
    scenes.push_back(scene_of(posterior, node, places));
    all += node.weight * scenes.back().mean_variance;
  }
  std::vector<NextSpot> spots;
  for (int k = 0; k < count; ++k) {
    Eigen::Index best = 0;
    double most = -1.0;
    for (Eigen::Index c = 0; c < places.rows(); ++c) {
      double sum = 0.0;
      for (const auto& scene : scenes)
        sum += scene.weight * fall(scene, rows_of(c, places.rows(), p));
      if (sum > most) {
        most = sum;
        best = c;
      }
    }
    const auto& grate = coarse[static_cast<std::size_t>(best / (coarse_x * coarse_y))];
    spots.push_back({grate.grate, {places(best, 0), places(best, 1), places(best, 2)}, most / all});
    for (auto& scene : scenes) place_probe(scene, rows_of(best, places.rows(), p));
  }
  return spots;
}

}  // namespace pitwright::lay
