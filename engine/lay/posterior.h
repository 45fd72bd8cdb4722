#pragma once

#include <vector>

#include "lay/integrate.h"
#include "lay/lay.h"
#include "numeric/mixture.h"

namespace pitwright::lay {

/// What is known of the lay once the scales are integrated over: a few weighted solutions. Built
/// once a lay, read by everything that asks about a place.
class Posterior {
 public:
  Posterior(Data data, std::vector<Weighted> nodes, std::vector<double> level_c,
            std::vector<double> level_sd_k);

  const Data& data() const { return data_; }
  const std::vector<Weighted>& nodes() const { return nodes_; }
  double level_c(int setting) const { return level_c_[static_cast<std::size_t>(setting)]; }
  /// Without the thermometers: their errors are the spots' own.
  double level_sd_k(int setting) const { return level_sd_k_[static_cast<std::size_t>(setting)]; }

  /// Law of the mean over places (or of one) at a setting: of the run, or of the air [degC].
  numeric::NormalMixture run(const Eigen::MatrixXd& places, int setting) const;
  numeric::NormalMixture celsius(const Eigen::MatrixXd& places, int setting) const;

 private:
  numeric::NormalMixture law(const Eigen::MatrixXd& places, int setting, Against against) const;
  Data data_;
  std::vector<Weighted> nodes_;
  std::vector<double> level_c_, level_sd_k_;
};

}  // namespace pitwright::lay
