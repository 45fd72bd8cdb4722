#include "call/warmup.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Dense>

#include "base/expects.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

constexpr std::array taus_s = {480.0,  600.0,  720.0,  900.0,  1080.0, 1320.0,
                               1600.0, 1900.0, 2200.0, 2550.0, 2900.0, 3400.0,
                               4000.0, 4700.0, 5500.0, 6400.0, 7500.0};
constexpr std::array walks_k_h = {0.5, 1.2, 2.5, 5.0};  ///< random walk [K per root hour]
constexpr double walk_prior_k_h = 2.0;  ///< half-t with 4 degrees, scale: 3 degF in methods
constexpr double effect_sd_k = 15.0;    ///< of a setting
constexpr double reset_sd_k = 0.4;      ///< of coming back to a setting
constexpr double rest_sd_k = 15.0;      ///< of the rest at t0
constexpr double base_sd_k = 500.0;
constexpr double tau_median_s = 1800.0, tau_log_sd = 0.7;

double normal_cdf(double z) {
  return 0.5 * std::erfc(-z * M_SQRT1_2);
}

/// Covariance of the blocks without warm-up and walk: base, settings, re-setting, slope, noise.
Eigen::MatrixXd still_covariance(const WarmupData& d, double noise_sd) {
  const auto n = std::ssize(d.y);
  Eigen::MatrixXd v(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index k = 0; k <= i; ++k) {
      const auto a = static_cast<std::size_t>(i), b = static_cast<std::size_t>(k);
      double c = base_sd_k * base_sd_k;
      for (const auto& s : d.settings) c += effect_sd_k * effect_sd_k * s[a] * s[b];
      if (d.stint[a] == d.stint[b]) c += reset_sd_k * reset_sd_k;
      const double ta = (d.t_s[a] - d.t_s[0]) / 3600.0, tb = (d.t_s[b] - d.t_s[0]) / 3600.0;
      c += d.slope_sd_k_h * d.slope_sd_k_h * ta * tb;
      v(i, k) = v(k, i) = c;
    }
    v(i, i) += noise_sd * noise_sd;
  }
  return v;
}

double noise_of(const WarmupData& d) {
  std::vector<double> second;
  for (std::size_t k = 1; k + 1 < d.y.size(); ++k) {
    if (d.stint[k - 1] != d.stint[k + 1]) continue;
    second.push_back((d.y[k - 1] - 2.0 * d.y[k] + d.y[k + 1]) / std::sqrt(6.0));
  }
  const double sd = series::robust_sd(second);
  return std::isfinite(sd) ? std::max(0.05, sd) : 0.3;
}

/// Log-normal: half an hour, a factor of two either way at one sd. Soaks of 20 min in thin steel to
/// two hours in brick (common practice, no source) are three of these constants.
double tau_log_prior(double tau_s) {
  const double z = std::log(tau_s / tau_median_s) / tau_log_sd;
  return -0.5 * z * z;
}

double walk_log_prior(double q) {
  return -2.5 * std::log1p(q * q / (4.0 * walk_prior_k_h * walk_prior_k_h));
}

double log_sum(const std::vector<double>& logs) {
  const double top = *std::ranges::max_element(logs);
  double sum = 0.0;
  for (const double l : logs) sum += std::exp(l - top);
  return top + std::log(sum);
}

}  // namespace

Warmup fit_warmup(const WarmupData& d) {
  expects(d.y.size() >= 6 && d.t_s.size() == d.y.size() && d.stint.size() == d.y.size());
  const auto n = std::ssize(d.y);
  const Eigen::Map<const Eigen::VectorXd> raw(d.y.data(), n);
  const Eigen::VectorXd y = raw.array() - raw.mean();
  const Eigen::MatrixXd still = still_covariance(d, noise_of(d));
  Warmup out;
  out.rises_only = d.rises_only;
  std::vector<double> none, some, log_weights;
  for (const double q : walks_k_h) {
    Eigen::MatrixXd v = still;
    for (Eigen::Index i = 0; i < n; ++i) {
      for (Eigen::Index k = 0; k < n; ++k) {
        const double t = d.t_s[static_cast<std::size_t>(std::min(i, k))] - d.t_s[0];
        v(i, k) += q * q * t / 3600.0;
      }
    }
    const Eigen::LLT<Eigen::MatrixXd> factor(v);
    const Eigen::VectorXd z = factor.matrixL().solve(y);
    const double log_det = factor.matrixLLT().diagonal().array().log().sum();
    const double plain = -0.5 * z.squaredNorm() - log_det + walk_log_prior(q);
    none.push_back(plain);
    for (const double tau : taus_s) {
      Eigen::VectorXd x(n);
      for (Eigen::Index i = 0; i < n; ++i) {
        x(i) = -std::exp(-(d.t_s[static_cast<std::size_t>(i)] - d.from_s) / tau);
      }
      const Eigen::VectorXd w = factor.matrixL().solve(x);
      const double precision = w.squaredNorm() + 1.0 / (rest_sd_k * rest_sd_k);
      const double mean = w.dot(z) / precision;
      const double log_evidence =
          plain + 0.5 * precision * mean * mean - 0.5 * std::log(precision * rest_sd_k * rest_sd_k);
      some.push_back(log_evidence + tau_log_prior(tau));
      out.parts.push_back({0.0, tau, mean, 1.0 / std::sqrt(precision)});
    }
  }
  const double total = log_sum(some);
  for (std::size_t p = 0; p < some.size(); ++p) out.parts[p].weight = std::exp(some[p] - total);
  std::vector<double> tau_priors;
  for (const double tau : taus_s) tau_priors.push_back(tau_log_prior(tau));
  out.log_odds = total - log_sum(tau_priors) - log_sum(none);
  return out;
}

double Warmup::chance_below(double bar_k, double t, double from_s, double stretch_s) const {
  double chance = 0.0;
  for (const auto& p : parts) {
    const double left = std::exp(-(t - from_s) / p.tau_s) * -std::expm1(-stretch_s / p.tau_s);
    const double limit = bar_k / left;
    const double low = normal_cdf(((rises_only ? 0.0 : -limit) - p.mean_k) / p.sd_k);
    const double all = rises_only ? 1.0 - low : 1.0;
    chance += all > 1e-9 ? p.weight * (normal_cdf((limit - p.mean_k) / p.sd_k) - low) / all
                         : p.weight;  // far below zero: nothing is left
  }
  return chance;
}

double Warmup::mean_k() const {
  double sum = 0.0;
  for (const auto& p : parts) {
    const double z = p.mean_k / p.sd_k;
    // Mean of a normal cut at zero: mu + sd phi(z) / Phi(z); far below zero it tends to sd / -z.
    const double cut = z < -8.0 ? p.sd_k / -z
                                : p.mean_k + p.sd_k * std::exp(-0.5 * z * z) /
                                                 std::sqrt(2.0 * M_PI) / normal_cdf(z);
    sum += p.weight * (rises_only ? cut : p.mean_k);
  }
  return sum;
}

double Warmup::mean_tau_s() const {
  double sum = 0.0;
  for (const auto& p : parts) sum += p.weight * std::log(p.tau_s);
  return std::exp(sum);
}

}  // namespace pitwright::call
