#include "call/effects.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

#include "base/expects.h"
#include "numeric/half_t.h"

namespace pitwright::call {
namespace {

/// 0, then the logarithmic nodes.
std::vector<double> ratio_nodes(const ScaleGrid& grid) {
  std::vector<double> nodes = {0.0};
  const int steps = static_cast<int>(std::lround((grid.ratio_high - grid.ratio_low) / grid.ratio_step));
  for (int i = 0; i <= steps; ++i) nodes.push_back(std::exp(grid.ratio_low + grid.ratio_step * i));
  return nodes;
}

/// Log prior density times measure of a scale ratio * g at every g. The node at zero stands for all
/// nodes that the grid leaves out below its smallest one: there the density is flat, and the
/// measures h x, h x e^-h, ... of the missing ones sum to h x e^-h / (1 - e^-h).
std::vector<double> log_ratio_prior(double ratio, double smallest, double step, double scale,
                                    const std::vector<double>& log_noise) {
  std::vector<double> logs;
  for (const double log_g : log_noise) {
    const double g = std::exp(log_g);
    const double x = ratio * g;
    const double measure =
        ratio > 0.0 ? step * x : step * smallest * g * std::exp(-step) / -std::expm1(-step);
    logs.push_back(numeric::log_half_t4(x, scale) + std::log(measure));
  }
  return logs;
}

}  // namespace

Effects::Effects(Layout layout, Eigen::MatrixXd y, const ScaleGrid& grid, const ScalePriors& priors)
    : layout_(std::move(layout)), y_(std::move(y)) {
  expects(layout_.blocks() >= 1 && y_.rows() == layout_.blocks());
  expects(layout_.rows.size() == layout_.lag_weights.size() && !layout_.rows.empty());
  make_priors(grid, priors);
  make_nodes(grid);
}

void Effects::make_priors(const ScaleGrid& grid, const ScalePriors& priors) {
  const double step = grid.ratio_step / grid.noise_steps_per_ratio_step;
  for (double x = grid.noise_low; x <= grid.noise_high; x += step) log_noise_.push_back(x);
  for (const double x : log_noise_)
    log_noise_prior_.push_back(numeric::log_half_t4(std::exp(x), priors.noise_k) + x);
  const auto ratios = ratio_nodes(grid);
  for (const double ratio : ratios) {
    log_drift_.push_back(
        log_ratio_prior(ratio, ratios[1], grid.ratio_step, priors.drift_k, log_noise_));
    log_resetting_.push_back(
        log_ratio_prior(ratio, ratios[1], grid.ratio_step, priors.resetting_k, log_noise_));
  }
}

void Effects::make_nodes(const ScaleGrid& grid) {
  const auto ratios = ratio_nodes(grid);
  const int count = static_cast<int>(ratios.size());
  const int lags = static_cast<int>(layout_.rows.size());
  nodes_.reserve(static_cast<std::size_t>(count * count * lags));
  for (int i = 0; i < count; ++i) {
    for (int j = 0; j < count; ++j) {
      const Ratios pair{ratios[static_cast<std::size_t>(i)], ratios[static_cast<std::size_t>(j)]};
      const Eigen::MatrixXd L = factor(layout_, pair);
      for (int k = 0; k < lags; ++k) {
        Node node{i, j, k, pair, solve(L, layout_.rows[static_cast<std::size_t>(k)], y_), {}};
        node.covariance_factor =
            Eigen::LLT<Eigen::MatrixXd>(node.solved.unit_covariance).matrixL();
        nodes_.push_back(std::move(node));
      }
    }
  }
}

Posterior Effects::posterior(int quantity) const {
  expects(quantity >= 0 && quantity < y_.cols());
  constexpr double negligible = 20.0;  // e^-20: with thousands of nodes still under 1e-5 in sum
  const int nu = layout_.blocks() - layout_.settings();
  const int noises = static_cast<int>(log_noise_.size());
  std::vector<double> logs(nodes_.size() * log_noise_.size());
  std::vector<double> precision;
  for (const double log_g : log_noise_) precision.push_back(std::exp(-2.0 * log_g));

  double top = -HUGE_VAL;
  auto* out = logs.data();
  for (const auto& node : nodes_) {
    const double base = std::log(layout_.lag_weights[static_cast<std::size_t>(node.lag)]) -
                        0.5 * node.solved.log_determinants;
    const double half_squares = 0.5 * node.solved.squares(quantity);
    const auto& drift = log_drift_[static_cast<std::size_t>(node.drift)];
    const auto& resetting = log_resetting_[static_cast<std::size_t>(node.resetting)];
    for (std::size_t k = 0; k < log_noise_.size(); ++k) {
      const double value = base - nu * log_noise_[k] - half_squares * precision[k] + drift[k] +
                           resetting[k] + log_noise_prior_[k];
      top = std::max(top, value);
      *out++ = value;
    }
  }

  Posterior result;
  result.effects_ = this;
  result.quantity_ = quantity;
  double sum = 0.0;
  for (std::size_t i = 0; i < logs.size(); ++i) {
    if (logs[i] < top - negligible) continue;
    const double weight = std::exp(logs[i] - top);
    const int index = static_cast<int>(i);
    sum += weight;
    result.entries_.push_back({index / noises, index % noises, weight, sum});
  }
  for (auto& e : result.entries_) {
    e.weight /= sum;
    e.cumulative /= sum;
  }
  return result;
}

namespace {

/// Gathers normals in cells of like mean and like sd and replaces each cell by one normal with the
/// cell's mean and variance. The cells are narrow against the sds, so tails move by parts in 1e4.
class Merger {
 public:
  Merger(double center, double log_sd_low, double log_sd_high)
      : center_(center), log_sd_low_(log_sd_low),
        rows_(1 + static_cast<int>((log_sd_high - log_sd_low) / sd_step)),
        cells_(static_cast<std::size_t>(rows_ * columns)) {}

  void add(double weight, double mean, double log_sd, double variance) {
    const int row = std::clamp(static_cast<int>((log_sd - log_sd_low_) / sd_step), 0, rows_ - 1);
    const double width = 0.25 * std::exp(log_sd_low_ + sd_step * row);
    const double offset = std::clamp((mean - center_) / width, -half - 0.4, half + 0.4);
    const int column = static_cast<int>(std::lround(offset)) + half;
    auto& cell = cells_[static_cast<std::size_t>(row * columns + column)];
    const double d = mean - center_;
    cell.weight += weight;
    cell.first += weight * d;
    cell.second += weight * (d * d + variance);
  }

  numeric::NormalMixture merged() const {
    std::vector<numeric::Component> parts;
    for (const auto& cell : cells_) {
      if (cell.weight <= 0.0) continue;
      const double d = cell.first / cell.weight;
      parts.push_back({cell.weight, center_ + d, std::sqrt(cell.second / cell.weight - d * d)});
    }
    return numeric::normalized(std::move(parts));
  }

 private:
  static constexpr double sd_step = 0.08;
  static constexpr int half = 10, columns = 2 * half + 1;
  struct Cell {
    double weight = 0.0, first = 0.0, second = 0.0;
  };
  double center_, log_sd_low_;
  int rows_;
  std::vector<Cell> cells_;
};

}  // namespace

numeric::NormalMixture Posterior::law(const Eigen::VectorXd& contrast) const {
  expects(effects_ != nullptr && contrast.size() == effects_->layout_.settings());
  struct AtNode {
    double mean, unit_variance, log_unit_sd;
  };
  std::vector<AtNode> at(effects_->nodes_.size(), AtNode{0.0, -1.0, 0.0});
  double center = 0.0, low = HUGE_VAL, high = -HUGE_VAL;
  for (const auto& e : entries_) {
    auto& a = at[static_cast<std::size_t>(e.node)];
    if (a.unit_variance < 0.0) {
      const auto& solved = effects_->nodes_[static_cast<std::size_t>(e.node)].solved;
      a.mean = contrast.dot(solved.beta.col(quantity_));
      a.unit_variance = contrast.dot(solved.unit_covariance * contrast);
      expects(a.unit_variance > 0.0);
      a.log_unit_sd = 0.5 * std::log(a.unit_variance);
    }
    const double log_sd = a.log_unit_sd + effects_->log_noise_[static_cast<std::size_t>(e.noise)];
    center += e.weight * a.mean;
    low = std::min(low, log_sd);
    high = std::max(high, log_sd);
  }
  Merger merger(center, low, high);
  for (const auto& e : entries_) {
    const auto& a = at[static_cast<std::size_t>(e.node)];
    const double log_g = effects_->log_noise_[static_cast<std::size_t>(e.noise)];
    merger.add(e.weight, a.mean, a.log_unit_sd + log_g, a.unit_variance * std::exp(2.0 * log_g));
  }
  return merger.merged();
}

Eigen::VectorXd Posterior::draw(numeric::Random& random) const {
  const double u = random.uniform();
  const auto entry = std::ranges::lower_bound(entries_, u, {}, &Entry::cumulative);
  const auto& e = entry == entries_.end() ? entries_.back() : *entry;
  const auto& node = effects_->nodes_[static_cast<std::size_t>(e.node)];
  Eigen::VectorXd z(effects_->layout_.settings());
  for (auto& value : z) value = random.normal();
  const double g = std::exp(effects_->log_noise_[static_cast<std::size_t>(e.noise)]);
  return node.solved.beta.col(quantity_) + g * (node.covariance_factor * z);
}

std::vector<Scales> Posterior::typical_scales(const Eigen::VectorXd& contrast, int count) const {
  expects(count > 0);
  struct Ranked {
    double variance, weight;
    const Entry* entry;
  };
  std::vector<Ranked> ranked;
  for (const auto& e : entries_) {
    const auto& solved = effects_->nodes_[static_cast<std::size_t>(e.node)].solved;
    const double g = std::exp(effects_->log_noise_[static_cast<std::size_t>(e.noise)]);
    ranked.push_back({g * g * contrast.dot(solved.unit_covariance * contrast), e.weight, &e});
  }
  std::ranges::stable_sort(ranked, {}, &Ranked::variance);
  std::vector<Scales> scales;
  double below = 0.0;
  for (const auto& r : ranked) {
    below += r.weight;
    while (std::ssize(scales) < count && below >= (static_cast<double>(scales.size()) + 0.5) / count) {
      const auto& node = effects_->nodes_[static_cast<std::size_t>(r.entry->node)];
      const double g = std::exp(effects_->log_noise_[static_cast<std::size_t>(r.entry->noise)]);
      scales.push_back({node.ratios.drift * g, g, node.ratios.resetting * g});
    }
  }
  return scales;
}

}  // namespace pitwright::call
