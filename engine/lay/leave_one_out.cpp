#include "lay/leave_one_out.h"

#include <cmath>

#include <Eigen/Cholesky>

#include "numeric/mixture.h"

namespace pitwright::lay {
namespace {

/// Residuals of one spot's observations at one set of scales, and their density.
struct Residual {
  Eigen::VectorXd mean, sd;
  double log_density;
};

Residual residual_of(const Data& data, const Solved& solved, const std::vector<int>& rows) {
  const Eigen::MatrixXd block = solved.q(rows, rows);
  const Eigen::LLT<Eigen::MatrixXd> factor(block);
  const Eigen::VectorXd pull = (solved.q * data.z)(rows);
  const auto n = static_cast<Eigen::Index>(rows.size());
  const Eigen::MatrixXd covariance = factor.solve(Eigen::MatrixXd::Identity(n, n));
  const Eigen::VectorXd mean = covariance * pull;
  const double log_determinant = 2.0 * factor.matrixLLT().diagonal().array().log().sum();
  return {mean, covariance.diagonal().cwiseSqrt(), 0.5 * (log_determinant - mean.dot(pull))};
}

}  // namespace

std::vector<LeftOut> leave_one_out(const Data& data, const std::vector<Weighted>& points) {
  std::vector<LeftOut> result;
  if (data.spots() < 2) return result;
  for (int spot = 0; spot < data.spots(); ++spot) {
    std::vector<int> rows;
    for (int a = 0; a < data.count(); ++a)
      if (data.spot[static_cast<std::size_t>(a)] == spot) rows.push_back(a);
    std::vector<Residual> residuals;
    double least = HUGE_VAL;
    for (const auto& point : points) {
      residuals.push_back(residual_of(data, point.solved, rows));
      least = std::min(least, residuals.back().log_density);
    }
    for (std::size_t k = 0; k < rows.size(); ++k) {
      const auto e = static_cast<Eigen::Index>(k);
      std::vector<numeric::Component> components;
      const double z = data.z(rows[k]);
      for (std::size_t i = 0; i < points.size(); ++i)
        components.push_back({points[i].weight * std::exp(least - residuals[i].log_density),
                              z - residuals[i].mean(e), residuals[i].sd(e)});
      const auto law = numeric::normalized(std::move(components));
      const auto range = numeric::central_interval(law, 0.1);
      result.push_back({spot, data.setting[static_cast<std::size_t>(rows[k])], z,
                        numeric::mean(law), numeric::sd(law), range.low, range.high});
    }
  }
  return result;
}

}  // namespace pitwright::lay
