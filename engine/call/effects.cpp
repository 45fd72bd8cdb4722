#include "call/effects.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include "base/expects.h"
#include "numeric/half_t.h"
#include "numeric/merger.h"

namespace pitwright::call {
namespace {

/// 0, then the logarithmic nodes.
std::vector<double> ratio_nodes(const ScaleGrid& grid) {
  std::vector<double> nodes = {0.0};
  const int steps =
      static_cast<int>(std::lround((grid.ratio_high - grid.ratio_low) / grid.ratio_step));
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

Effects::Effects(Layout layout, Eigen::MatrixXd y, const ScaleGrid& grid)
    : layout_(std::move(layout)),
      y_(std::move(y)),
      ratios_(ratio_nodes(grid)),
      ratio_step_(grid.ratio_step) {
  expects(layout_.blocks() >= 1 && y_.rows() == layout_.blocks());
  expects(layout_.rows.size() == layout_.lag_weights.size() && !layout_.rows.empty());
  const double nu = std::max(1, layout_.blocks() - layout_.settings());
  const double step = std::min(grid.ratio_step, grid.noise_step_sds / std::sqrt(2.0 * nu));
  for (double x = grid.noise_low; x <= grid.noise_high; x += step) {
    log_noise_.push_back(x);
    noise_variance_.push_back(std::exp(2.0 * x));
  }
  make_nodes();
}

void Effects::make_nodes() {
  const int count = static_cast<int>(ratios_.size());
  const int lags = static_cast<int>(layout_.rows.size());
  nodes_.reserve(static_cast<std::size_t>(count * count * lags));
  for (int i = 0; i < count; ++i) {
    for (int j = 0; j < count; ++j) {
      const Ratios pair{ratios_[static_cast<std::size_t>(i)], ratios_[static_cast<std::size_t>(j)]};
      const Eigen::MatrixXd L = factor(layout_, pair);
      for (int k = 0; k < lags; ++k) {
        Node node{i,
                  j,
                  k,
                  pair,
                  solve(L, layout_.rows[static_cast<std::size_t>(k)], y_, layout_.nuisances),
                  {}};
        node.covariance_factor = Eigen::LLT<Eigen::MatrixXd>(node.solved.unit_covariance).matrixL();
        nodes_.push_back(std::move(node));
      }
    }
  }
}

/// log of the integral over the coefficients, over their value at zero.
double Posterior::Leaning::log_evidence(double g2) const {
  double sum = 0.0;
  for (int i = 0; i < information.size(); ++i)
    sum += pull(i) * mean(i, g2) / g2 - std::log1p(information(i) / g2);
  return 0.5 * sum;
}

Posterior::Leaning Effects::leaning(const Solved& solved, int quantity,
                                    const std::vector<double>& sd) {
  const Nuisances D = Eigen::Map<const Eigen::VectorXd>(sd.data(), std::ssize(sd));
  const NuisanceAxes T = D.asDiagonal() * solved.information * D.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<NuisanceAxes> eigen(T);
  const NuisanceAxes axes = D.asDiagonal() * eigen.eigenvectors();
  return {eigen.eigenvalues().cwiseMax(0.0), axes.transpose() * solved.pull.col(quantity), axes};
}

std::vector<double> Effects::log_weights(int quantity, const ScalePriors& priors,
                                         std::vector<Posterior::Leaning>& leanings) const {
  const int nu = layout_.blocks() - layout_.settings();
  const std::size_t noises = log_noise_.size();
  // Log prior times grid measure.
  std::vector<std::vector<double>> log_drift, log_resetting;
  for (const double ratio : ratios_) {
    log_drift.push_back(
        log_ratio_prior(ratio, ratios_[1], ratio_step_, priors.drift_k, log_noise_));
    log_resetting.push_back(
        log_ratio_prior(ratio, ratios_[1], ratio_step_, priors.resetting_k, log_noise_));
  }
  std::vector<double> log_noise_prior;
  for (const double x : log_noise_)
    log_noise_prior.push_back(numeric::log_half_t4(std::exp(x), priors.noise_k) + x);
  const bool leans = !priors.nuisance_sd.empty() && layout_.nuisances.size() > 0;
  expects(!leans || std::ssize(priors.nuisance_sd) == layout_.nuisances.cols());
  std::vector<double> logs;
  logs.reserve(nodes_.size() * noises);
  for (const auto& node : nodes_) {
    const double base = std::log(layout_.lag_weights[static_cast<std::size_t>(node.lag)]) -
                        0.5 * node.solved.log_determinants;
    const double half_squares = 0.5 * node.solved.squares(quantity);
    const auto& drift = log_drift[static_cast<std::size_t>(node.drift)];
    const auto& resetting = log_resetting[static_cast<std::size_t>(node.resetting)];
    if (leans) leanings.push_back(leaning(node.solved, quantity, priors.nuisance_sd));
    for (std::size_t k = 0; k < noises; ++k) {
      logs.push_back(base - nu * log_noise_[k] - half_squares / noise_variance_[k] + drift[k] +
                     resetting[k] + log_noise_prior[k] +
                     (leans ? leanings.back().log_evidence(noise_variance_[k]) : 0.0));
    }
  }
  return logs;
}

Posterior Effects::posterior(int quantity, const ScalePriors& priors) const {
  expects(quantity >= 0 && quantity < y_.cols());
  constexpr double negligible = 17.0;  // e^-17 of the top: what is left out sums to under 1e-5
  const std::size_t noises = log_noise_.size();
  std::vector<Posterior::Leaning> leanings;  // one a node; empty where no nuisance acts
  const auto logs = log_weights(quantity, priors, leanings);
  const double top = *std::ranges::max_element(logs);
  Posterior result;
  result.effects_ = this;
  result.quantity_ = quantity;
  double sum = 0.0;
  for (std::size_t i = 0; i < nodes_.size(); ++i) {
    Posterior::Entry entry{
        static_cast<int>(i), -1, static_cast<int>(result.weights_.size()), 0, 0.0, 0.0};
    for (std::size_t k = 0; k < noises; ++k) {
      const double log_weight = logs[i * noises + k] - top;
      // A node's values of g have one peak, so those that count stand in a row.
      if (log_weight < -negligible) continue;
      if (entry.first_noise < 0) entry.first_noise = static_cast<int>(k);
      result.weights_.resize(static_cast<std::size_t>(entry.first_weight) + k + 1 -
                             static_cast<std::size_t>(entry.first_noise));
      result.weights_.back() = std::exp(log_weight);
      entry.weight += result.weights_.back();
    }
    if (entry.first_noise < 0) continue;
    entry.count = static_cast<int>(result.weights_.size()) - entry.first_weight;
    entry.cumulative = sum += entry.weight;
    result.entries_.push_back(entry);
    if (!leanings.empty()) result.leanings_.push_back(leanings[i]);
  }
  for (auto& weight : result.weights_) weight /= sum;
  for (auto& entry : result.entries_) {
    entry.weight /= sum;
    entry.cumulative /= sum;
  }
  return result;
}

Posterior::Place Posterior::at(std::size_t entry, const Eigen::VectorXd& contrast) const {
  const auto& solved = effects_->nodes_[static_cast<std::size_t>(entries_[entry].node)].solved;
  const double variance = contrast.dot(solved.unit_covariance * contrast);
  expects(variance > 0.0);
  Place place{contrast.dot(solved.beta.col(quantity_)), variance, 0.5 * std::log(variance), {}};
  if (!leanings_.empty())
    place.reach = leanings_[entry].axes.transpose() * (solved.leverage.transpose() * contrast);
  return place;
}

numeric::NormalMixture Posterior::law(const Eigen::VectorXd& contrast) const {
  expects(effects_ != nullptr && contrast.size() == effects_->layout_.settings());
  std::vector<Place> places;
  places.reserve(entries_.size());
  double center = 0.0, low = HUGE_VAL, high = -HUGE_VAL;
  const auto& log_noise = effects_->log_noise_;
  const auto& g2 = effects_->noise_variance_;
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    const auto& e = entries_[i];
    const auto& place = places.emplace_back(at(i, contrast));
    center += e.weight * place.mean;
    const auto first = static_cast<std::size_t>(e.first_noise);
    const auto last = first + static_cast<std::size_t>(e.count) - 1;
    low = std::min(low, place.log_unit_sd + log_noise[first]);
    high =
        std::max(high, 0.5 * std::log(place.unit_variance * g2[last] + place.reach.squaredNorm()));
  }
  numeric::Merger merger(center, low, high);
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    const auto& e = entries_[i];
    const auto& place = places[i];
    for (int k = 0; k < e.count; ++k) {
      const auto g = static_cast<std::size_t>(e.first_noise + k);
      double mean = place.mean, variance = place.unit_variance * g2[g];
      double log_sd = place.log_unit_sd + log_noise[g];
      if (place.reach.size() > 0) {
        for (int r = 0; r < place.reach.size(); ++r) {
          mean -= place.reach(r) * leanings_[i].mean(r, g2[g]);
          variance += place.reach(r) * place.reach(r) * leanings_[i].variance(r, g2[g]);
        }
        log_sd = 0.5 * std::log(variance);
      }
      merger.add(weights_[static_cast<std::size_t>(e.first_weight + k)], mean, log_sd, variance);
    }
  }
  return merger.merged();
}

Posterior::Joint Posterior::joint() const {
  expects(effects_ != nullptr);
  const auto p = effects_->layout_.settings();
  Joint joint{Eigen::VectorXd::Zero(p), Eigen::MatrixXd::Zero(p, p)};
  Eigen::MatrixXd second = Eigen::MatrixXd::Zero(p, p);
  const Eigen::VectorXd center =
      effects_->nodes_[static_cast<std::size_t>(entries_.front().node)].solved.beta.col(quantity_);
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    const auto& e = entries_[i];
    const auto& solved = effects_->nodes_[static_cast<std::size_t>(e.node)].solved;
    const Eigen::VectorXd beta = solved.beta.col(quantity_) - center;
    double noise = 0.0;
    const auto leans = leanings_.empty() ? Eigen::Index{0} : leanings_[i].pull.size();
    Nuisances mean = Nuisances::Zero(leans);
    NuisanceAxes square = NuisanceAxes::Zero(leans, leans);
    for (int k = 0; k < e.count; ++k) {
      const double w = weights_[static_cast<std::size_t>(e.first_weight + k)];
      const double g2 = effects_->noise_variance_[static_cast<std::size_t>(e.first_noise + k)];
      noise += w * g2;
      if (leans == 0) continue;
      Nuisances at(leans);
      for (int r = 0; r < leans; ++r) at(r) = leanings_[i].mean(r, g2);
      mean += w * at;
      square += w * at * at.transpose();
      for (int r = 0; r < leans; ++r) square(r, r) += w * leanings_[i].variance(r, g2);
    }
    joint.mean += e.weight * beta;
    second += noise * solved.unit_covariance + e.weight * beta * beta.transpose();
    if (leans == 0) continue;
    const Eigen::MatrixXd reach = solved.leverage * leanings_[i].axes;
    const Eigen::VectorXd pulled = reach * mean;
    joint.mean -= pulled;
    second +=
        reach * square * reach.transpose() - beta * pulled.transpose() - pulled * beta.transpose();
  }
  joint.covariance = second - joint.mean * joint.mean.transpose();
  joint.mean += center;
  return joint;
}

Eigen::VectorXd Posterior::draw(numeric::Random& random) const {
  const double u = random.uniform();
  const auto found = std::ranges::lower_bound(entries_, u, {}, &Entry::cumulative);
  const auto& e = found == entries_.end() ? entries_.back() : *found;
  double rest = random.uniform() * e.weight;
  int k = 0;
  for (; k + 1 < e.count; ++k) {
    rest -= weights_[static_cast<std::size_t>(e.first_weight + k)];
    if (rest < 0.0) break;
  }
  const auto& node = effects_->nodes_[static_cast<std::size_t>(e.node)];
  Eigen::VectorXd z(effects_->layout_.settings());
  for (auto& value : z) value = random.normal();
  const double g = std::exp(effects_->log_noise_[static_cast<std::size_t>(e.first_noise + k)]);
  Eigen::VectorXd beta = node.solved.beta.col(quantity_) + g * (node.covariance_factor * z);
  if (!leanings_.empty()) {
    const auto& leaning = leanings_[static_cast<std::size_t>(&e - entries_.data())];
    Nuisances free(leaning.pull.size());
    for (int i = 0; i < free.size(); ++i)
      free(i) = leaning.mean(i, g * g) + std::sqrt(leaning.variance(i, g * g)) * random.normal();
    beta -= node.solved.leverage * (leaning.axes * free);
  }
  return beta;
}

std::vector<Scales> Posterior::typical_scales(const Eigen::VectorXd& contrast, int count) const {
  expects(count > 0);
  struct Ranked {
    double log_sd, weight;
    int node, noise;
  };
  // Each node by its mean g: fine enough to stand for the whole, and cheap to sort.
  std::vector<Ranked> ranked;
  for (std::size_t i = 0; i < entries_.size(); ++i) {
    const auto& e = entries_[i];
    double sum = 0.0;
    for (int k = 0; k < e.count; ++k)
      sum += k * weights_[static_cast<std::size_t>(e.first_weight + k)];
    const int noise = e.first_noise + static_cast<int>(std::lround(sum / e.weight));
    ranked.push_back(
        {at(i, contrast).log_unit_sd + effects_->log_noise_[static_cast<std::size_t>(noise)],
         e.weight, e.node, noise});
  }
  std::ranges::stable_sort(ranked, {}, &Ranked::log_sd);
  std::vector<Scales> scales;
  double below = 0.0;
  for (const auto& r : ranked) {
    below += r.weight;
    while (std::ssize(scales) < count &&
           below >= (static_cast<double>(scales.size()) + 0.5) / count) {
      const auto& ratios = effects_->nodes_[static_cast<std::size_t>(r.node)].ratios;
      const double g = std::exp(effects_->log_noise_[static_cast<std::size_t>(r.noise)]);
      scales.push_back({ratios.drift * g, g, ratios.resetting * g});
    }
  }
  return scales;
}

}  // namespace pitwright::call
