#include "browning/light.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <Eigen/Dense>

#include "series/robust.h"

namespace pitwright::browning {
namespace {

constexpr int rounds = 30;

std::array<double, 6> terms(double x, double y) {
  const double u = 2.0 * x - 1.0, v = 2.0 * y - 1.0;
  return {1.0, u, v, u * u, u * v, v * v};
}

int term_count(std::size_t samples) {
  if (samples < 4) return 1;
  return samples < 12 ? 3 : 6;
}

}  // namespace

double LightField::log_at(double x, double y) const {
  const auto t = terms(std::clamp(x, -0.1, 1.1), std::clamp(y, -0.1, 1.1));
  double sum = 0.0;
  for (std::size_t k = 0; k < t.size(); ++k) sum += coefficient[k] * t[k];
  return sum;
}

double LightField::ratio() const {
  double low = log_at(0.0, 0.0), high = low;
  for (int i = 0; i <= 8; ++i) {
    for (int j = 0; j <= 8; ++j) {
      const double e = log_at(i / 8.0, j / 8.0);
      low = std::min(low, e);
      high = std::max(high, e);
    }
  }
  return std::exp(high - low);
}

LightField fit_light(std::span<const LightSample> samples) {
  LightField field;
  field.samples = static_cast<int>(samples.size());
  if (samples.empty()) return field;
  const auto n = static_cast<Eigen::Index>(samples.size());
  const int p = term_count(samples.size());
  Eigen::MatrixXd X(n, p);
  Eigen::VectorXd y(n), w = Eigen::VectorXd::Ones(n), beta = Eigen::VectorXd::Zero(p);
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto& one = samples[static_cast<std::size_t>(i)];
    const auto t = terms(one.x, one.y);
    for (int k = 0; k < p; ++k) X(i, k) = t[static_cast<std::size_t>(k)];
    y(i) = one.log_luminance;
  }
  std::vector<double> left(samples.size());
  for (int round = 0; round < rounds; ++round) {
    const Eigen::MatrixXd A = X.transpose() * w.asDiagonal() * X;
    const Eigen::VectorXd b = X.transpose() * w.asDiagonal() * y;
    beta = A.ldlt().solve(b);
    const Eigen::VectorXd r = y - X * beta;
    std::copy(r.data(), r.data() + n, left.begin());
    field.residual_sd = series::robust_sd(left);
    const double reach = 4.685 * std::max(field.residual_sd, 1e-9);
    for (Eigen::Index i = 0; i < n; ++i) {
      const double z = r(i) / reach;
      w(i) = std::abs(z) < 1.0 ? (1.0 - z * z) * (1.0 - z * z) : 0.0;
    }
  }
  for (int k = 0; k < p; ++k) field.coefficient[static_cast<std::size_t>(k)] = beta(k);
  return field;
}

}  // namespace pitwright::browning
