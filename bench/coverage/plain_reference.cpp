#include "coverage/plain_reference.h"

#include <algorithm>
#include <cmath>
#include <span>

#include <Eigen/Cholesky>

namespace pitwright::bench {
namespace {

constexpr double first_block_after_h = 0.1;

struct GridPoint {
  double s, q, g, log_prior;
};

/// One grid point's normal for one series and contrast.
struct Component {
  double log_weight, mean, sd;
};

std::vector<double> log_spaced(double low, double high, int n) {
  std::vector<double> values;
  for (int i = 0; i < n; ++i) values.push_back(low * std::pow(high / low, i / (n - 1.0)));
  return values;
}

double log_half_t4(double x, double scale) {
  const double z = x / scale;
  return -2.5 * std::log1p(z * z / 4.0);
}

/// Prior density times the width of the cell that each value stands for (trapezoid rule).
std::vector<double> log_prior_of(std::span<const double> values, double scale) {
  std::vector<double> out;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double below = i == 0 ? values[i] : values[i - 1];
    const double above = i + 1 == values.size() ? values[i] : values[i + 1];
    out.push_back(log_half_t4(values[i], scale) + std::log((above - below) / 2.0));
  }
  return out;
}

std::vector<GridPoint> make_grid() {
  auto s = log_spaced(0.1, 6.0, 9);
  s.insert(s.begin(), 0.0);
  const auto q = log_spaced(0.05, 15.0, 11);
  const auto g = log_spaced(0.1, 10.0, 9);
  const auto prior_s = log_prior_of(s, 1.0);
  const auto prior_q = log_prior_of(q, 3.0);
  const auto prior_g = log_prior_of(g, 3.0);
  std::vector<GridPoint> grid;
  for (std::size_t i = 0; i < s.size(); ++i) {
    for (std::size_t j = 0; j < q.size(); ++j) {
      for (std::size_t k = 0; k < g.size(); ++k) {
        grid.push_back({s[i], q[j], g[k], prior_s[i] + prior_q[j] + prior_g[k]});
      }
    }
  }
  return grid;
}

Eigen::MatrixXd covariance(const PlainBlocks& blocks, const GridPoint& at) {
  const auto n = static_cast<Eigen::Index>(blocks.middle_h.size());
  Eigen::MatrixXd C(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      const auto a = static_cast<std::size_t>(i), b = static_cast<std::size_t>(j);
      const double walked = std::min(blocks.middle_h[a], blocks.middle_h[b]) -
                            blocks.middle_h.front() + first_block_after_h;
      C(i, j) = at.q * at.q * walked +
                (blocks.stretch[a] == blocks.stretch[b] ? at.s * at.s : 0.0) +
                (i == j ? at.g * at.g : 0.0);
    }
  }
  return C;
}

double cdf(std::span<const Component> mixture, double x) {
  double sum = 0.0, total = 0.0;
  for (const auto& c : mixture) {
    const double weight = std::exp(c.log_weight);
    sum += weight * 0.5 * std::erfc((c.mean - x) / (c.sd * std::sqrt(2.0)));
    total += weight;
  }
  return sum / total;
}

double quantile(std::span<const Component> mixture, double p) {
  double low = mixture.front().mean, high = low;
  for (const auto& c : mixture) {
    low = std::min(low, c.mean - 10.0 * c.sd);
    high = std::max(high, c.mean + 10.0 * c.sd);
  }
  for (int i = 0; i < 60 && high - low > 1e-4; ++i) {
    const double middle = 0.5 * (low + high);
    (cdf(mixture, middle) < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// Drops what cannot be seen and scales the largest weight to 1.
std::vector<Component> pruned(std::vector<Component> mixture) {
  double best = -1e300;
  for (const auto& c : mixture) best = std::max(best, c.log_weight);
  for (auto& c : mixture) c.log_weight -= best;
  std::erase_if(mixture, [](const Component& c) { return c.log_weight < -18.0; });
  return mixture;
}

}  // namespace

std::vector<PlainChange> plain_reference(const PlainBlocks& blocks) {
  static const std::vector<GridPoint> grid = make_grid();
  const auto n = static_cast<Eigen::Index>(blocks.middle_h.size());
  const int settings = 1 + *std::ranges::max_element(blocks.setting);
  const auto series = blocks.values.cols();
  Eigen::MatrixXd X = Eigen::MatrixXd::Zero(n, settings);
  for (Eigen::Index i = 0; i < n; ++i) X(i, blocks.setting[static_cast<std::size_t>(i)]) = 1.0;

  std::vector<PlainChange> changes;
  for (int k = 0; k < series; ++k) {
    for (int from = 0; from < settings; ++from) {
      for (int to = from + 1; to < settings; ++to) changes.push_back({k, from, to, 0, 0, 0});
    }
  }
  std::vector<std::vector<Component>> mixtures(changes.size());

  for (const auto& at : grid) {
    const Eigen::LLT<Eigen::MatrixXd> llt(covariance(blocks, at));
    const Eigen::MatrixXd WX = llt.matrixL().solve(X);
    const Eigen::MatrixXd WY = llt.matrixL().solve(blocks.values);
    const Eigen::LLT<Eigen::MatrixXd> information(WX.transpose() * WX);
    const Eigen::MatrixXd beta = information.solve(WX.transpose() * WY);
    const Eigen::MatrixXd V = information.solve(Eigen::MatrixXd::Identity(settings, settings));
    const double log_dets = 2.0 * llt.matrixLLT().diagonal().array().log().sum() +
                            2.0 * information.matrixLLT().diagonal().array().log().sum();
    const Eigen::RowVectorXd rss = (WY - WX * beta).colwise().squaredNorm();
    for (std::size_t c = 0; c < changes.size(); ++c) {
      const auto& change = changes[c];
      const double variance =
          V(change.to, change.to) + V(change.from, change.from) - 2.0 * V(change.from, change.to);
      mixtures[c].push_back({at.log_prior - 0.5 * (log_dets + rss(change.series)),
                             beta(change.to, change.series) - beta(change.from, change.series),
                             std::sqrt(variance)});
    }
  }
  for (std::size_t c = 0; c < changes.size(); ++c) {
    const auto mixture = pruned(std::move(mixtures[c]));
    changes[c].value = quantile(mixture, 0.5);
    changes[c].low = quantile(mixture, 0.025);
    changes[c].high = quantile(mixture, 0.975);
  }
  return changes;
}

}  // namespace pitwright::bench
