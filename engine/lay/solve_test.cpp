#include "lay/solve.h"

#include <cmath>
#include <fstream>
#include <limits>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include <Eigen/LU>
#include <gtest/gtest.h>

namespace pitwright::lay {
namespace {

// Source of every expected number: R gstat 2.1 (Pebesma, Computers & Geosciences 30, 2004), made by
// data/reference/lay_kriging/make.R from the spots and places beside it.

std::vector<std::vector<std::string>> csv(const std::string& name) {
  std::ifstream in(std::string(PITWRIGHT_SOURCE_DIR) + "/data/reference/lay_kriging/" + name);
  std::vector<std::vector<std::string>> rows;
  for (std::string line; std::getline(in, line);) {
    std::istringstream cells(line);
    auto& row = rows.emplace_back();
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(cell);
  }
  rows.erase(rows.begin());
  return rows;
}

Eigen::MatrixXd places_from(const std::vector<std::vector<std::string>>& rows, std::size_t first) {
  Eigen::MatrixXd at(std::ssize(rows), 3);
  for (std::size_t i = 0; i < rows.size(); ++i)
    for (std::size_t k = 0; k < 3; ++k)
      at(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(k)) =
          std::stod(rows[i][first + k]);
  return at;
}

Data reference_data(int settings) {
  const auto rows = csv("spots.csv");
  Data data;
  data.places = places_from(rows, 1);
  data.middle = {0.5, 0.25, 0.25};
  data.extent = {1.0, 0.5, 0.5};
  data.settings = settings;
  const int n = static_cast<int>(rows.size());
  data.z.resize(n * settings);
  data.error = Eigen::MatrixXd::Zero(n * settings, n * settings);
  for (int s = 0; s < settings; ++s)
    for (int i = 0; i < n; ++i) {
      const auto& row = rows[static_cast<std::size_t>(i)];
      const int a = s * n + i;
      data.spot.push_back(i);
      data.setting.push_back(s);
      data.z(a) = std::stod(row[static_cast<std::size_t>(4 + s)]);
      data.error(a, a) = std::stod(row[static_cast<std::size_t>(6 + s)]);
    }
  data.level_share = Eigen::VectorXd::Constant(n, 1.0 / n);
  data.unplaced_k = Eigen::VectorXd::Zero(settings);
  data.unplaced_error = Eigen::MatrixXd::Zero(settings, settings);
  return data;
}

Shape reference_shape() {
  Shape shape;
  shape.size_k = 4.5;
  shape.tilt_k = 1e-6;  // ordinary: no trend but the constant
  shape.length_m = {0.42, 0.31, 0.25};
  shape.own_share = 0.3;
  return shape;
}

void expect_like(const std::string& name, const Eigen::VectorXd& mean,
                 const Eigen::VectorXd& variance) {
  int seen = 0;
  for (const auto& row : csv("expected.csv")) {
    if (row[0] != name) continue;
    const auto k = std::stol(row[1]) - 1;
    EXPECT_NEAR(mean(k), std::stod(row[2]), 1e-6) << name << ", place " << row[1];
    EXPECT_NEAR(variance(k), std::stod(row[3]), 1e-6) << name << ", place " << row[1];
    ++seen;
  }
  EXPECT_EQ(seen, mean.size());
}

TEST(Kriging, AgreesWithGstatAtOneSettingWithAndWithoutATrend) {
  const auto data = reference_data(1);
  const auto places = places_from(csv("places.csv"), 0);
  auto shape = reference_shape();
  for (const bool with_trend : {false, true}) {
    if (with_trend) shape.tilt_k = std::numeric_limits<double>::infinity();
    const auto solved = solve(data, shape);
    const auto targets = targets_at(data, shape, places, Against::nothing);
    expect_like(with_trend ? "universal" : "ordinary", means(data, solved, targets, 0),
                covariances(data, solved, targets, 0, 0));
  }
}

TEST(Kriging, AgreesWithGstatsCokrigingOfTwoSettingsAndTheirDifference) {
  const auto data = reference_data(2);
  const auto places = places_from(csv("places.csv"), 0);
  const auto shape = reference_shape();
  const auto solved = solve(data, shape);
  const auto targets = targets_at(data, shape, places, Against::nothing);
  const auto a = means(data, solved, targets, 0), b = means(data, solved, targets, 1);
  const auto of_a = covariances(data, solved, targets, 0, 0);
  const auto of_b = covariances(data, solved, targets, 1, 1);
  expect_like("setting a", a, of_a);
  expect_like("setting b", b, of_b);
  expect_like("b less a", b - a, of_a + of_b - 2.0 * covariances(data, solved, targets, 0, 1));
}

TEST(Kriging, MaternFallsFromOneAndAgreesWithItsFormula) {
  EXPECT_DOUBLE_EQ(matern_5_2(0.0), 1.0);
  // (1 + sqrt 5 + 5/3) exp(-sqrt 5) at one length, worked by hand.
  EXPECT_NEAR(matern_5_2(1.0), 0.5239941088318203, 1e-12);
  EXPECT_GT(matern_5_2(0.5), matern_5_2(0.6));
}

TEST(Kriging, RunsAtTheSpotsSumToZeroOverTheLevel) {
  const auto data = reference_data(2);
  auto shape = reference_shape();
  shape.tilt_k = 3.0;
  const auto solved = solve(data, shape);
  const auto targets = targets_at(data, shape, data.places, Against::level);
  EXPECT_NEAR(means(data, solved, targets, 1).sum(), 0.0, 1e-9);
}

TEST(Kriging, MeanOverPlacesIsTheMeanOfTheirsAndSurerThanMost) {
  const auto data = reference_data(2);
  auto shape = reference_shape();
  shape.tilt_k = 3.0;
  const auto places = places_from(csv("places.csv"), 0);
  const auto solved = solve(data, shape);
  const auto each = targets_at(data, shape, places, Against::level);
  const auto all = target_mean(data, shape, places, Against::level);
  EXPECT_NEAR(means(data, solved, all, 0)(0), means(data, solved, each, 0).mean(), 1e-12);
  const double variance = covariances(data, solved, all, 0, 0)(0);
  EXPECT_GT(variance, 0.0);
  EXPECT_LT(variance, covariances(data, solved, each, 0, 0).mean());
}

TEST(Kriging, CovariancesOfRunsHoldTheVariancesOnTheirDiagonal) {
  const auto data = reference_data(2);
  auto shape = reference_shape();
  shape.tilt_k = 3.0;
  shape.local_k = 0.7;
  const auto places = places_from(csv("places.csv"), 0);
  const auto solved = solve(data, shape);
  const auto all = run_covariances(data, solved, places, places, 1);
  const auto targets = targets_at(data, shape, places, Against::level);
  const auto alone = covariances(data, solved, targets, 1, 1);
  for (int i = 0; i < places.rows(); ++i) EXPECT_NEAR(all(i, i), alone(i), 1e-9);
  EXPECT_NEAR((all - all.transpose()).cwiseAbs().maxCoeff(), 0.0, 1e-9);
}

TEST(Kriging, LikelihoodOfFixedScalesIsThatOfTheRestrictedNormal) {
  // Contrasts of the spots at one setting: z less its first entry has no constant left.
  const auto data = reference_data(1);
  auto shape = reference_shape();
  shape.tilt_k = 2.0;
  const auto by_hand = [&](const Shape& s) {
    const int n = data.count();
    const Eigen::MatrixXd xi = scaled(data, data.places);
    const Eigen::MatrixXd K = s.size_k * s.size_k * correlations(s, data.places, data.places) +
                              s.tilt_k * s.tilt_k * xi * xi.transpose() + data.error;
    Eigen::MatrixXd C = Eigen::MatrixXd::Zero(n - 1, n);
    C.col(0).setConstant(-1.0);
    C.rightCols(n - 1).setIdentity();
    const Eigen::MatrixXd V = C * K * C.transpose();
    const Eigen::VectorXd z = C * data.z;
    return -0.5 * (std::log(V.determinant()) + z.dot(V.inverse() * z));
  };
  auto other = shape;
  other.size_k = 2.0;
  other.tilt_k = 7.0;
  other.length_m = {0.2, 0.9, 0.4};
  EXPECT_NEAR(solve(data, shape).log_likelihood - solve(data, other).log_likelihood,
              by_hand(shape) - by_hand(other), 1e-7);
}

}  // namespace
}  // namespace pitwright::lay
