#include "lay/shape.h"

#include <cmath>

namespace pitwright::lay {

double matern_5_2(double r) {
  const double a = std::sqrt(5.0) * r;
  return (1.0 + a + a * a / 3.0) * std::exp(-a);
}

Eigen::MatrixXd correlations(const Shape& shape, const Eigen::MatrixXd& a,
                             const Eigen::MatrixXd& b) {
  const Eigen::Array3d per_length = std::sqrt(5.0) / shape.length_m;
  Eigen::MatrixXd result(a.rows(), b.rows());
  for (Eigen::Index j = 0; j < b.rows(); ++j) {
    auto column = result.col(j).array();
    column = ((a.col(0).array() - b(j, 0)) * per_length(0)).square() +
             ((a.col(1).array() - b(j, 1)) * per_length(1)).square() +
             ((a.col(2).array() - b(j, 2)) * per_length(2)).square();
    column = column.sqrt();
    column = (1.0 + column + column.square() * (1.0 / 3.0)) * (-column).exp();
  }
  return result;
}

Eigen::MatrixXd scaled(const Data& data, const Eigen::MatrixXd& places) {
  Eigen::MatrixXd xi = places.rowwise() - data.middle.matrix().transpose();
  for (int k = 0; k < 3; ++k) xi.col(k) /= data.extent(k);
  return xi;
}

}  // namespace pitwright::lay
