#include "lay/posterior.h"

#include <cmath>

#include "base/expects.h"

namespace pitwright::lay {

Posterior::Posterior(Data data, std::vector<Weighted> nodes, std::vector<double> level_c,
                     std::vector<double> level_sd_k)
    : data_(std::move(data)),
      nodes_(std::move(nodes)),
      level_c_(std::move(level_c)),
      level_sd_k_(std::move(level_sd_k)) {
  expects(!nodes_.empty() && std::ssize(level_c_) == data_.settings);
}

numeric::NormalMixture Posterior::law(const Eigen::MatrixXd& places, int setting,
                                      Against against) const {
  std::vector<numeric::Component> components;
  for (const auto& [weight, solved] : nodes_) {
    const auto target = target_mean(data_, solved.shape, places, against);
    double mean = means(data_, solved, target, setting)(0);
    double variance = covariances(data_, solved, target, setting, setting)(0);
    // Over a patch what only single spots see averages out; at one place it is there.
    if (places.rows() == 1) variance += solved.shape.local_k * solved.shape.local_k;
    if (against == Against::level) {
      mean -= data_.unplaced_k(setting);
      variance += data_.unplaced_error(setting, setting);
    } else {
      mean += level_c(setting);
      variance += level_sd_k(setting) * level_sd_k(setting);
    }
    components.push_back({weight, mean, std::sqrt(std::max(variance, 1e-12))});
  }
  return numeric::normalized(std::move(components));
}

numeric::NormalMixture Posterior::run(const Eigen::MatrixXd& places, int setting) const {
  return law(places, setting, Against::level);
}

numeric::NormalMixture Posterior::celsius(const Eigen::MatrixXd& places, int setting) const {
  return law(places, setting, Against::nothing);
}

}  // namespace pitwright::lay
