#include "call/errors_model.h"

#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

#include <Eigen/Cholesky>
#include <gtest/gtest.h>

namespace pitwright::call {
namespace {

using Table = std::vector<std::map<std::string, std::string>>;

Table read_csv(const std::string& path) {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/reference/call_gls/" + path);
  Table table;
  std::vector<std::string> names;
  for (std::string line; std::getline(file, line);) {
    std::istringstream cells(line);
    std::map<std::string, std::string> row;
    std::size_t k = 0;
    for (std::string cell; std::getline(cells, cell, ','); ++k)
      if (table.empty() && names.size() == k)
        names.push_back(cell);
      else
        row[names[k]] = cell;
    if (!row.empty()) table.push_back(row);
  }
  return table;
}

struct Case {
  Layout layout;
  Eigen::MatrixXd y;
};

Case case_of(const Table& blocks, const std::string& name) {
  Case result;
  std::vector<const std::map<std::string, std::string>*> mine;
  for (const auto& row : blocks)
    if (row.at("case") == name) mine.push_back(&row);
  Eigen::MatrixXd X(std::ssize(mine), 3);
  result.y.resize(std::ssize(mine), 1);
  for (std::size_t i = 0; i < mine.size(); ++i) {
    const auto& row = *mine[i];
    const auto r = static_cast<Eigen::Index>(i);
    result.layout.hours.push_back(std::stod(row.at("hours")));
    result.layout.stretch.push_back(std::stoi(row.at("stretch")));
    result.layout.noise.push_back(std::stod(row.at("noise")));
    X.row(r) << std::stod(row.at("share_a")), std::stod(row.at("share_b")),
        std::stod(row.at("share_c"));
    result.y(r, 0) = std::stod(row.at("y"));
  }
  const Eigen::Index used = X.col(2).sum() > 0.0 ? 3 : 2;
  result.layout.rows = {X.leftCols(used)};
  result.layout.lag_weights = {1.0};
  return result;
}

// Source: data/reference/call_gls: generalised least squares by SciPy and by base R, which agree.
// They print 12 digits; the rest is rounding of numbers near 120.
TEST(ErrorsModel, AgreesWithSciPyAndRToEightDigitsAtFixedScales) {
  const auto blocks = read_csv("blocks.csv"), scales = read_csv("scales.csv");
  const auto expected = read_csv("expected.csv");
  ASSERT_GT(expected.size(), 90u);
  for (const auto& row : expected) {
    const auto& at = scales.at(static_cast<std::size_t>(std::stoi(row.at("scale"))));
    const double q = std::stod(at.at("drift")), g = std::stod(at.at("noise"));
    const double s = std::stod(at.at("resetting"));
    const auto one = case_of(blocks, row.at("case"));
    const auto solved = solve(factor(one.layout, {q / g, s / g}), one.layout.rows[0], one.y);
    const double value = std::stod(row.at("value")), sd = std::stod(row.at("sd"));
    const auto label = row.at("case") + " scale " + row.at("scale") + " " + row.at("what");
    if (row.at("what") == "reml") {
      const double nu = one.layout.blocks() - one.layout.settings();
      const double reml =
          -0.5 * (solved.log_determinants + 2.0 * nu * std::log(g) + solved.squares(0) / (g * g));
      EXPECT_NEAR(reml, value, 1e-8 * std::max(1.0, std::abs(value))) << label;
      continue;
    }
    const auto p = one.layout.settings();
    Eigen::VectorXd c = Eigen::VectorXd::Unit(p, p - 1) - Eigen::VectorXd::Unit(p, 0);
    if (row.at("what") != "change") c = Eigen::VectorXd::Unit(p, row.at("what")[0] - 'a');
    EXPECT_NEAR(c.dot(solved.beta.col(0)), value, 1e-8 * 120.0) << label;
    EXPECT_NEAR(g * std::sqrt(c.dot(solved.unit_covariance * c)) / sd, 1.0, 1e-8) << label;
  }
}

// Source: NIST StRD, analysis of variance, AtmWtAg: certified F 15.9467335677930 on 1 and 46
// degrees of freedom. Two settings, no drift, no re-setting error: the model is one-way analysis of
// variance. Numbers with seven constant leading digits leave about nine of the sixteen in a double.
TEST(ErrorsModel, WithoutDriftAndResettingIsTheAnalysisOfVarianceOfNist) {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/nist_strd/scipy_anova/AtmWtAg.dat");
  std::string line;
  for (int i = 0; i < 60; ++i) std::getline(file, line);
  Layout layout;
  std::vector<int> group;
  std::vector<double> values;
  int instrument = 0;
  for (double value = 0.0; file >> instrument >> value;) {
    group.push_back(instrument - 1);
    values.push_back(value);
  }
  ASSERT_EQ(values.size(), 48u);
  Eigen::MatrixXd X = Eigen::MatrixXd::Zero(48, 2), y(48, 1);
  for (int i = 0; i < 48; ++i) {
    layout.hours.push_back(0.1 * i);
    layout.stretch.push_back(0);
    layout.noise.push_back(1.0);
    X(i, group[static_cast<std::size_t>(i)]) = 1.0;
    y(i, 0) = values[static_cast<std::size_t>(i)];
  }
  layout.rows = {X};
  const auto solved = solve(factor(layout, {0.0, 0.0}), X, y);
  const Eigen::Vector2d c(-1.0, 1.0);
  const double change = c.dot(solved.beta.col(0));
  const double F = change * change / c.dot(solved.unit_covariance * c) / (solved.squares(0) / 46.0);
  EXPECT_NEAR(F / 15.9467335677930, 1.0, 1e-8);
}

/// Blocks at even times, one setting a letter, `per` blocks a stint.
Layout even_layout(const std::string& order, int per) {
  Layout layout;
  Eigen::MatrixXd X = Eigen::MatrixXd::Zero(std::ssize(order) * per, 3);
  int stretch = -1;
  for (int k = 0; k < std::ssize(order); ++k) {
    const auto i = static_cast<std::size_t>(k);
    if (k == 0 || order[i] != order[i - 1]) ++stretch;
    for (int b = 0; b < per; ++b) {
      layout.hours.push_back(0.1 * (k * per + b));
      layout.stretch.push_back(stretch);
      layout.noise.push_back(1.0);
      X(k * per + b, order[i] - 'A') = 1.0;
    }
  }
  layout.rows = {X.leftCols(order.find('C') == std::string::npos ? 2 : 3)};
  layout.lag_weights = {1.0};
  return layout;
}

TEST(ErrorsModel, AStraightDriftCancelsInASymmetricOrder) {
  for (const Ratios ratios : {Ratios{0.0, 0.0}, Ratios{2.0, 0.0}, Ratios{0.5, 3.0}}) {
    const auto layout = even_layout("ABBA", 3);
    Eigen::MatrixXd y(layout.blocks(), 1);
    for (int i = 0; i < layout.blocks(); ++i)
      y(i, 0) = 4.0 * layout.rows[0](i, 1) + 7.0 * layout.hours[static_cast<std::size_t>(i)];
    const auto solved = solve(factor(layout, ratios), layout.rows[0], y);
    EXPECT_NEAR(solved.beta(1, 0) - solved.beta(0, 0), 4.0, 1e-12);
  }
}

TEST(ErrorsModel, AConstantMovesEverySettingAndNoChange) {
  const auto layout = even_layout("ABCCBA", 2);
  Eigen::MatrixXd y = Eigen::VectorXd::LinSpaced(layout.blocks(), 0.0, 5.0).array().sin();
  const auto L = factor(layout, {1.0, 0.7});
  const auto plain = solve(L, layout.rows[0], y);
  const auto raised = solve(L, layout.rows[0], y.array() + 100.0);
  for (int k = 0; k < 3; ++k) EXPECT_NEAR(raised.beta(k, 0) - plain.beta(k, 0), 100.0, 1e-10);
  EXPECT_NEAR(raised.squares(0), plain.squares(0), 1e-10);
}

TEST(ErrorsModel, CenteringTheDriftChangesNoDifferenceOfSettings) {
  auto layout = even_layout("ABCAB", 2);
  const Ratios ratios{1.5, 0.4};
  const Eigen::MatrixXd y = Eigen::VectorXd::LinSpaced(layout.blocks(), 0.0, 9.0).array().cos();
  Eigen::MatrixXd R = relative_covariance(layout, {0.0, ratios.resetting});
  for (int i = 0; i < layout.blocks(); ++i)
    for (int j = 0; j < layout.blocks(); ++j)  // the walk as it is, begun an hour before
      R(i, j) += 2.25 * (1.0 + std::min(layout.hours[static_cast<std::size_t>(i)],
                                        layout.hours[static_cast<std::size_t>(j)]));
  const Eigen::MatrixXd L = R.llt().matrixL();
  const auto plain = solve(L, layout.rows[0], y);
  const auto centered = solve(factor(layout, ratios), layout.rows[0], y);
  for (int k = 1; k < 3; ++k)
    EXPECT_NEAR(plain.beta(k, 0) - plain.beta(0, 0), centered.beta(k, 0) - centered.beta(0, 0),
                1e-12);
  EXPECT_NEAR(plain.squares(0), centered.squares(0), 1e-12);
}

}  // namespace
}  // namespace pitwright::call
