#include "lay/integrate.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include <Eigen/Cholesky>

#include "base/expects.h"
#include "numeric/half_t.h"
#include "numeric/mixture.h"

namespace pitwright::lay {
namespace {

constexpr int per_round = 160;
constexpr int rounds = 3;
constexpr double wanted_points = 50.0;  ///< effective number at which no further round is made
constexpr double widened = 1.25;        ///< a proposal against the posterior it follows
constexpr double negligible = 1e-5;

/// Coordinates: log lengths, log size, log tilt / size, log local, logit own_share (only
/// with two settings or more).
int dimensions(const Data& data) {
  return data.settings > 1 ? 7 : 6;
}

Shape shape_of(const Eigen::VectorXd& u) {
  Shape shape;
  for (int k = 0; k < 3; ++k) shape.length_m(k) = std::exp(u(k));
  shape.size_k = std::exp(u(3));
  shape.tilt_k = shape.size_k * std::exp(u(4));
  shape.local_k = std::exp(u(5));
  if (u.size() > 6) shape.own_share = 1.0 / (1.0 + std::exp(-u(6)));
  return shape;
}

/// Median of what only one spot sees.
double usual_local_k(const ShapePriors& priors, double size_k) {
  return std::hypot(priors.local_k, priors.local_share * size_k);
}

struct Normal {
  Eigen::VectorXd mean;
  Eigen::MatrixXd factor;  ///< lower Cholesky of the covariance

  double log_density(const Eigen::VectorXd& u) const {
    const Eigen::VectorXd e = factor.triangularView<Eigen::Lower>().solve(u - mean);
    return -0.5 * e.squaredNorm() - factor.diagonal().array().log().sum();
  }
};

Normal prior_normal(const Data& data, const ShapePriors& priors) {
  const int d = dimensions(data);
  Normal prior{Eigen::VectorXd(d), Eigen::MatrixXd::Zero(d, d)};
  Eigen::VectorXd sd(d);
  for (int k = 0; k < 3; ++k) {
    prior.mean(k) = std::log(priors.length_share * data.extent(k));
    sd(k) = priors.length_log_sd;
  }
  const double shown = std::sqrt(data.z.squaredNorm() / data.count());
  prior.mean(3) = std::log(std::max(shown, 0.5));  // where to look; its prior is the half-t
  sd(3) = 0.8;
  prior.mean(4) = std::log(priors.tilt_share);
  sd(4) = priors.tilt_log_sd;
  prior.mean(5) = std::log(usual_local_k(priors, shown));
  sd(5) = priors.local_log_sd;
  if (d > 6) {
    prior.mean(6) = std::log(priors.own_odds);
    sd(6) = priors.own_log_sd;
  }
  prior.factor.diagonal() = sd;
  return prior;
}

/// Standard normal points that fill space evenly: multiples of powers of the generalised golden
/// ratio, through the normal's quantiles. Source: Roberts, "The unreasonable effectiveness of
/// quasirandom sequences" (2018), from memory; any low-discrepancy sequence would do.
std::vector<Eigen::VectorXd> even_points(int dimension, int from, int count) {
  double phi = 2.0;
  for (int i = 0; i < 60; ++i) phi = std::pow(1.0 + phi, 1.0 / (dimension + 1));
  const numeric::NormalMixture standard{{{1.0, 0.0, 1.0}}};
  std::vector<Eigen::VectorXd> points;
  for (int i = from; i < from + count; ++i) {
    Eigen::VectorXd z(dimension);
    for (int k = 0; k < dimension; ++k) {
      const double turn = 0.5 + (i + 1) * std::pow(phi, -(k + 1));
      const double u = turn - std::floor(turn);
      z(k) = numeric::lower_quantile(standard, std::clamp(u, 1e-6, 1.0 - 1e-6));
    }
    points.push_back(std::move(z));
  }
  return points;
}

/// Weights that sum to 1, and the effective number of points they leave.
double normalize(std::vector<double>& logs) {
  const double top = *std::ranges::max_element(logs);
  double sum = 0.0, squares = 0.0;
  for (auto& log : logs) sum += log = std::exp(log - top);
  for (auto& weight : logs) {
    weight /= sum;
    squares += weight * weight;
  }
  return 1.0 / squares;
}

/// A normal like the weighted points. Where few of them carry the weight it is flattened first.
Normal normal_like(const std::vector<Eigen::VectorXd>& points, const std::vector<double>& logs,
                   const Normal& prior) {
  std::vector<double> weights = logs;
  double power = 1.0;
  while (normalize(weights) < wanted_points && power > 0.05) {
    power *= 0.7;
    for (std::size_t i = 0; i < logs.size(); ++i) weights[i] = power * logs[i];
  }
  const auto d = prior.mean.size();
  Normal normal{Eigen::VectorXd::Zero(d), Eigen::MatrixXd::Zero(d, d)};
  for (std::size_t i = 0; i < points.size(); ++i) normal.mean += weights[i] * points[i];
  Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(d, d);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Eigen::VectorXd e = points[i] - normal.mean;
    covariance += weights[i] * e * e.transpose();
  }
  covariance +=
      Eigen::MatrixXd(0.01 * prior.factor.diagonal().array().square().matrix().asDiagonal());
  normal.factor = widened * Eigen::LLT<Eigen::MatrixXd>(covariance).matrixL().toDenseMatrix();
  return normal;
}

}  // namespace

double log_prior(const Data& data, const Shape& shape, const ShapePriors& priors) {
  const auto log_normal = [](double log_ratio, double log_sd) {
    return -0.5 * log_ratio * log_ratio / (log_sd * log_sd);
  };
  double sum = numeric::log_half_t4(shape.size_k, priors.size_k) + std::log(shape.size_k);
  for (int k = 0; k < 3; ++k)
    sum += log_normal(std::log(shape.length_m(k) / (priors.length_share * data.extent(k))),
                      priors.length_log_sd);
  sum += log_normal(std::log(shape.tilt_k / shape.size_k / priors.tilt_share), priors.tilt_log_sd);
  sum += log_normal(std::log(shape.local_k / usual_local_k(priors, shape.size_k)),
                    priors.local_log_sd);
  if (data.settings > 1)
    sum += log_normal(std::log(shape.own_share / (1.0 - shape.own_share) / priors.own_odds),
                      priors.own_log_sd);
  return sum;
}

std::vector<Weighted> integrate(const Data& data, const ShapePriors& priors) {
  const Normal prior = prior_normal(data, priors);
  std::vector<Normal> proposals = {prior};
  std::vector<Eigen::VectorXd> points;
  std::vector<Weighted> solved;
  std::vector<double> posterior, logs;
  for (int round = 0; round < rounds; ++round) {
    for (const auto& z : even_points(dimensions(data), round * per_round, per_round)) {
      points.emplace_back(proposals.back().mean + proposals.back().factor * z);
      solved.push_back({0.0, solve(data, shape_of(points.back()))});
      posterior.push_back(solved.back().solved.log_likelihood +
                          log_prior(data, solved.back().solved.shape, priors));
    }
    logs = posterior;
    for (std::size_t i = 0; i < logs.size(); ++i) {
      double density = 0.0;
      for (const auto& proposal : proposals) density += std::exp(proposal.log_density(points[i]));
      logs[i] -= std::log(density + 1e-300);
    }
    std::vector<double> weights = logs;
    if (round + 1 == rounds || (round > 0 && normalize(weights) >= wanted_points)) break;
    proposals.push_back(normal_like(points, logs, prior));
  }
  normalize(logs);
  const double least = negligible * *std::ranges::max_element(logs);
  std::vector<Weighted> kept;
  double sum = 0.0;
  for (std::size_t i = 0; i < logs.size(); ++i) {
    if (logs[i] < least) continue;
    sum += solved[i].weight = logs[i];
    kept.push_back(std::move(solved[i]));
  }
  for (auto& point : kept) point.weight /= sum;
  return kept;
}

std::vector<Weighted> fewer(const std::vector<Weighted>& points, const std::vector<double>& rank,
                            int count) {
  expects(points.size() == rank.size() && count > 0);
  std::vector<std::size_t> order(points.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return rank[i]; });
  std::vector<Weighted> result;
  double below = 0.0;
  int taken = 0;
  for (const auto i : order) {
    below += points[i].weight;
    const int before = taken;
    while (taken < count && below >= (taken + 0.5) / count) ++taken;
    if (taken > before)
      result.push_back({static_cast<double>(taken - before) / count, points[i].solved});
  }
  const double sum = static_cast<double>(taken) / count;
  for (auto& point : result) point.weight /= sum;
  return result;
}

}  // namespace pitwright::lay
