#include "browning/judge.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

#include "base/expects.h"
#include "series/robust.h"

namespace pitwright::browning {
namespace {

double chroma(const Lab& color) {
  return std::hypot(color.a, color.b);
}

Eigen::RowVector3d terms(const Lab& color) {
  const double z = (color.lightness - 50.0) / 30.0;
  return {1.0, z, z * z};
}

void mark_off_colors(std::span<const Lab> colors, std::span<Flaw> flaws) {
  constexpr std::size_t fewest = 8;
  constexpr double sds = 4.0, least = 5.0;
  std::vector<std::size_t> used;
  for (std::size_t i = 0; i < colors.size(); ++i)
    if (flaws[i] == Flaw::none) used.push_back(i);
  if (used.size() < fewest) return;
  const auto n = static_cast<Eigen::Index>(used.size());
  Eigen::MatrixXd X(n, 3);
  Eigen::VectorXd y(n), w = Eigen::VectorXd::Ones(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    X.row(i) = terms(colors[used[static_cast<std::size_t>(i)]]);
    y(i) = chroma(colors[used[static_cast<std::size_t>(i)]]);
  }
  Eigen::VectorXd r = y;
  double sd = 0.0;
  for (int round = 0; round < 20; ++round) {
    const Eigen::Matrix3d A =
        X.transpose() * w.asDiagonal() * X + 1e-9 * Eigen::Matrix3d::Identity();
    r = y - X * A.ldlt().solve(X.transpose() * w.asDiagonal() * y);
    sd = std::max(series::robust_sd({r.data(), static_cast<std::size_t>(n)}), 0.5);
    for (Eigen::Index i = 0; i < n; ++i) w(i) = 1.0 / std::max(1.0, std::abs(r(i)) / sd);
  }
  for (Eigen::Index i = 0; i < n; ++i)
    if (r(i) < -std::max(sds * sd, least))
      flaws[used[static_cast<std::size_t>(i)]] = Flaw::off_color;
}

}  // namespace

void judge_colors(std::span<const Lab> colors, const Limits& limits, std::span<Flaw> flaws) {
  expects(colors.size() == flaws.size());
  for (std::size_t i = 0; i < colors.size(); ++i) {
    if (flaws[i] != Flaw::none) continue;
    if (colors[i].lightness >= limits.raw) flaws[i] = Flaw::raw;
    if (colors[i].lightness <= limits.burnt) flaws[i] = Flaw::burnt;
  }
  mark_off_colors(colors, flaws);
}

}  // namespace pitwright::browning
