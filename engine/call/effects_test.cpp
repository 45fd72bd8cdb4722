#include "call/effects.h"

#include <cmath>
#include <string>

#include <Eigen/Cholesky>
#include <boost/math/distributions/students_t.hpp>
#include <gtest/gtest.h>

namespace pitwright::call {
namespace {

Layout layout_of(const std::string& order, int per, double block_hours = 0.1) {
  Layout layout;
  int settings = 0, stretch = -1;
  for (const char c : order) settings = std::max(settings, c - 'A' + 1);
  Eigen::MatrixXd X = Eigen::MatrixXd::Zero(std::ssize(order) * per, settings);
  for (int k = 0; k < std::ssize(order); ++k) {
    const auto i = static_cast<std::size_t>(k);
    if (k == 0 || order[i] != order[i - 1]) ++stretch;
    for (int b = 0; b < per; ++b) {
      layout.hours.push_back(block_hours * (k * (per + 2) + b));  // two blocks lost to settling
      layout.stretch.push_back(stretch);
      layout.noise.push_back(1.0);
      X(k * per + b, order[i] - 'A') = 1.0;
    }
  }
  layout.rows = {X};
  layout.lag_weights = {1.0};
  return layout;
}

/// Block means drawn from the model itself.
Eigen::MatrixXd drawn(const Layout& layout, const Eigen::VectorXd& beta, const Scales& scales,
                      numeric::Random& random) {
  const Eigen::MatrixXd L =
      factor(layout, {scales.drift / scales.noise, scales.resetting / scales.noise});
  Eigen::VectorXd z(layout.blocks());
  for (auto& value : z) value = random.normal();
  return layout.rows[0] * beta + scales.noise * (L * z);
}

/// The size of a t variable with 4 degrees of freedom.
double half_t4(double scale, numeric::Random& random) {
  double squares = 0.0;
  for (int k = 0; k < 4; ++k) squares += std::pow(random.normal(), 2.0);
  return scale * std::abs(random.normal()) / std::sqrt(squares / 4.0);
}

// Scales drawn from the priors and data from the model: then the promise holds exactly, whatever
// the design. Three standard errors of a share of 95 % in n cases are allowed.
TEST(Effects, RangesKeepTheirPromiseOnDataFromTheModel) {
  numeric::Random random(4);
  constexpr int burns = 400;
  const ScalePriors priors;
  for (const std::string order : {"ABBA", "ABCCBA", "ABC"}) {
    const auto layout = layout_of(order, 3);
    const auto p = layout.settings();
    const Eigen::VectorXd contrast = Eigen::VectorXd::Unit(p, p - 1) - Eigen::VectorXd::Unit(p, 0);
    int held = 0;
    for (int k = 0; k < burns; ++k) {
      const Scales scales{half_t4(priors.drift_k, random), half_t4(priors.noise_k, random),
                          half_t4(priors.resetting_k, random)};
      const Eigen::VectorXd beta = Eigen::VectorXd::Constant(p, 100.0);
      const Effects effects(layout, drawn(layout, beta, scales, random));
      const auto range = numeric::central_interval(effects.posterior(0).law(contrast), 0.05);
      held += range.low <= 0.0 && 0.0 <= range.high ? 1 : 0;
    }
    EXPECT_NEAR(held / static_cast<double>(burns), 0.95, 3.0 * std::sqrt(0.95 * 0.05 / burns))
        << order;
  }
}

TEST(Effects, AFinerAndWiderGridMovesNoRangeByOnePercent) {
  const ScaleGrid fine{0.375, -4.5, 6.0, -5.5, 4.0, 0.75};
  numeric::Random random(9);
  for (const auto& [order, per] : std::vector<std::pair<std::string, int>>{
           {"ABBA", 4}, {"ABCCBA", 1}, {"ABC", 2}, {"AB", 1}, {"ABBABAAB", 8}}) {
    for (const Scales scales :
         {Scales{1.0, 0.5, 0.3}, Scales{0.1, 2.0, 0.0}, Scales{3.0, 0.1, 2.0}}) {
      const auto layout = layout_of(order, per);
      const auto p = layout.settings();
      const Eigen::VectorXd contrast =
          Eigen::VectorXd::Unit(p, p - 1) - Eigen::VectorXd::Unit(p, 0);
      const auto y = drawn(layout, Eigen::VectorXd::Zero(p), scales, random);
      const Effects usual(layout, y), finer(layout, y, fine);
      const auto law = usual.posterior(0).law(contrast), sharp = finer.posterior(0).law(contrast);
      for (const double error : {0.05, 0.001}) {
        const auto a = numeric::central_interval(law, error);
        const auto b = numeric::central_interval(sharp, error);
        const double width = b.high - b.low;
        EXPECT_NEAR(a.low, b.low, 0.01 * width) << order << " " << scales.drift << " " << error;
        EXPECT_NEAR(a.high, b.high, 0.01 * width) << order << " " << scales.drift << " " << error;
      }
    }
  }
}

// Source: with one block noise and nothing else, a flat prior on ln g gives Student's t; here the
// half-t prior on g is nearly flat in ln g over the narrow likelihood of 78 degrees of freedom
// times g: one more degree. Boost's t quantile; 2 % allow for the prior's slope and for what drift
// and re-setting keep of the weight.
TEST(Effects, WithManyQuietBlocksTheRangeIsNearlyStudents) {
  numeric::Random random(17);
  auto layout = layout_of("ABABABABABABABAB", 5);
  Eigen::MatrixXd y(layout.blocks(), 1);
  for (auto& value : y.reshaped()) value = random.normal();
  const Effects effects(layout, y);
  const Eigen::Vector2d contrast(-1.0, 1.0);
  const auto range = numeric::central_interval(effects.posterior(0).law(contrast), 0.05);
  const auto solved = solve(factor(layout, {0.0, 0.0}), layout.rows[0], y);
  const double nu = layout.blocks() - 2.0;
  const double sd =
      std::sqrt(contrast.dot(solved.unit_covariance * contrast) * solved.squares(0) / nu);
  const double t = quantile(complement(boost::math::students_t(nu), 0.025));
  EXPECT_GT((range.high - range.low) / (2.0 * t * sd), 0.98);
  EXPECT_LT((range.high - range.low) / (2.0 * t * sd), 1.35);  // drift and re-setting only widen
}

TEST(Effects, TheSameBlocksGiveTheSameBits) {
  numeric::Random random(3);
  const auto layout = layout_of("ABCCBA", 3);
  const auto y = drawn(layout, Eigen::Vector3d(1.0, 2.0, 3.0), {1.0, 1.0, 0.5}, random);
  const Eigen::Vector3d contrast(-1.0, 0.0, 1.0);
  const Effects a(layout, y), b(layout, y);
  const auto one = numeric::central_interval(a.posterior(0).law(contrast), 0.05);
  const auto two = numeric::central_interval(b.posterior(0).law(contrast), 0.05);
  EXPECT_EQ(one.low, two.low);
  EXPECT_EQ(one.high, two.high);
}

TEST(Effects, RelabellingTheSettingsFlipsTheSignOfAChange) {
  numeric::Random random(6);
  const auto ab = layout_of("ABBA", 3);
  auto ba = ab;
  ba.rows[0] = ab.rows[0].rowwise().reverse();
  const auto y = drawn(ab, Eigen::Vector2d(0.0, 2.0), {1.0, 0.4, 0.3}, random);
  const Eigen::Vector2d contrast(-1.0, 1.0);
  const Effects straight(ab, y), turned(ba, y);
  const auto one = numeric::central_interval(straight.posterior(0).law(contrast), 0.05);

  const auto two = numeric::central_interval(turned.posterior(0).law(contrast), 0.05);
  EXPECT_NEAR(one.low, -two.high, 1e-9);
  EXPECT_NEAR(one.high, -two.low, 1e-9);
}

TEST(Effects, DrawsHaveTheLawsMeanAndSd) {
  numeric::Random random(12);
  const auto layout = layout_of("ABBA", 4);
  const auto y = drawn(layout, Eigen::Vector2d(5.0, 8.0), {1.0, 0.5, 0.2}, random);
  const Effects effects(layout, y);
  const auto posterior = effects.posterior(0);
  const Eigen::Vector2d contrast(-1.0, 1.0);
  const auto law = posterior.law(contrast);
  constexpr int n = 20000;
  double sum = 0.0;
  int inside = 0;
  const auto range = numeric::central_interval(law, 0.05);
  for (int k = 0; k < n; ++k) {
    const double x = contrast.dot(posterior.draw(random));
    sum += x;
    inside += range.low <= x && x <= range.high ? 1 : 0;
  }
  EXPECT_NEAR(sum / n, numeric::mean(law), 5.0 * numeric::sd(law) / std::sqrt(n));
  EXPECT_NEAR(inside / static_cast<double>(n), 0.95, 5.0 * std::sqrt(0.95 * 0.05 / n));
}

}  // namespace
}  // namespace pitwright::call
