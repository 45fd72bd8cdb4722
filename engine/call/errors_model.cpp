#include "call/errors_model.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

#include "base/expects.h"

namespace pitwright::call {

Eigen::MatrixXd relative_covariance(const Layout& layout, Ratios ratios) {
  const int m = layout.blocks();
  expects(m > 0);
  const double start = *std::ranges::min_element(layout.hours);
  Eigen::MatrixXd W(m, m);
  for (int j = 0; j < m; ++j)
    for (int i = 0; i < m; ++i)
      W(i, j) = std::min(layout.hours[static_cast<std::size_t>(i)],
                         layout.hours[static_cast<std::size_t>(j)]) -
                start;
  const Eigen::RowVectorXd column_means = W.colwise().mean();
  const double mean = column_means.mean();
  W.rowwise() -= column_means;
  W.colwise() -= column_means.transpose();
  W.array() += mean;

  const double q2 = ratios.drift * ratios.drift;
  const double s2 = ratios.resetting * ratios.resetting;
  Eigen::MatrixXd R = q2 * W;
  for (int j = 0; j < m; ++j) {
    for (int i = 0; i < m; ++i)
      if (layout.stretch[static_cast<std::size_t>(i)] ==
          layout.stretch[static_cast<std::size_t>(j)])
        R(i, j) += s2;
    R(j, j) += layout.noise[static_cast<std::size_t>(j)];
  }
  return R;
}

Eigen::MatrixXd factor(const Layout& layout, Ratios ratios) {
  const Eigen::LLT<Eigen::MatrixXd> cholesky(relative_covariance(layout, ratios));
  expects(cholesky.info() == Eigen::Success);
  return cholesky.matrixL();
}

Solved solve(const Eigen::MatrixXd& lower, const Eigen::MatrixXd& rows, const Eigen::MatrixXd& y,
             const Eigen::MatrixXd& nuisances) {
  expects(lower.rows() == rows.rows() && rows.rows() == y.rows());
  const auto L = lower.triangularView<Eigen::Lower>();
  const Eigen::MatrixXd A = L.solve(rows);
  const Eigen::MatrixXd B = L.solve(y);
  const Eigen::LLT<Eigen::MatrixXd> normal(A.transpose() * A);
  expects(normal.info() == Eigen::Success);
  Solved solved;
  solved.beta = normal.solve(A.transpose() * B);
  solved.unit_covariance = normal.solve(Eigen::MatrixXd::Identity(rows.cols(), rows.cols()));
  const Eigen::MatrixXd rest = B - A * solved.beta;
  solved.squares = rest.colwise().squaredNorm().transpose();
  if (nuisances.size() > 0) {
    const Eigen::MatrixXd Z = L.solve(nuisances);
    solved.leverage = normal.solve(A.transpose() * Z);
    const Eigen::MatrixXd own = Z - A * solved.leverage;
    solved.information = own.transpose() * own;
    solved.pull = own.transpose() * rest;
  }
  const Eigen::MatrixXd normal_lower = normal.matrixL();
  solved.log_determinants =
      2.0 * (lower.diagonal().array().log().sum() + normal_lower.diagonal().array().log().sum());
  return solved;
}

}  // namespace pitwright::call
