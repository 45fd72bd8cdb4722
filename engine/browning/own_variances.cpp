#include <algorithm>

#include <Eigen/Dense>

#include "browning/toast_map.h"

namespace pitwright::browning {

std::vector<double> own_variances(const ToastMap& map) {
  const auto n = std::ssize(map.used);
  if (n < 3 || map.covariance_k2.empty()) return {};
  using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  const Eigen::MatrixXd covariance = Eigen::Map<const Rows>(map.covariance_k2.data(), n, n);
  Eigen::MatrixXd shared(n, 2);
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto slice = static_cast<std::size_t>(map.used[static_cast<std::size_t>(i)]);
    shared.row(i) << 1.0, map.heats[slice]->mean_c;
  }
  shared.col(1).array() -= shared.col(1).mean();
  // What is left of the covariance beside the two shared directions; they cost two slices.
  const Eigen::MatrixXd basis = Eigen::ColPivHouseholderQR<Eigen::MatrixXd>(shared).householderQ() *
                                Eigen::MatrixXd::Identity(n, 2);
  const Eigen::MatrixXd beside = Eigen::MatrixXd::Identity(n, n) - basis * basis.transpose();
  const Eigen::VectorXd own = (beside * covariance * beside).diagonal();
  const double back = static_cast<double>(n) / static_cast<double>(n - 2);
  constexpr double least_k2 = 1e-4;
  std::vector<double> all;
  for (const double v : own) all.push_back(std::max(least_k2, back * v));
  return all;
}

}  // namespace pitwright::browning
