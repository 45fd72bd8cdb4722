#pragma once

#include <memory>
#include <optional>
#include <vector>

#include <Eigen/Core>

#include "call/blocks.h"
#include "call/effects.h"

namespace pitwright::call {

/// What the blocks say about one quantity; settings are Windows::settings.
class Measured {
 public:
  bool has(int setting) const;
  int settings() const { return static_cast<int>(columns_.size()); }
  /// Law of the quantity at a setting; empty where the setting was never counted for it.
  std::optional<numeric::NormalMixture> at(int setting) const;
  /// Law of the change between two settings; empty where either was never counted.
  std::optional<numeric::NormalMixture> change(int from, int to) const;
  /// A joint draw of the quantity at every setting; NaN where it was never counted.
  Eigen::VectorXd draw(numeric::Random& random) const;

  /// Mean and covariance over all settings; NaN where one was never counted.
  Posterior::Joint joint() const;

  const Posterior* posterior() const { return effects_ ? &posterior_ : nullptr; }
  const Effects* effects() const { return effects_.get(); }
  int column_of(int setting) const { return columns_[static_cast<std::size_t>(setting)]; }
  /// Which of the blocks given to `measure` it rests on.
  const std::vector<int>& blocks() const { return blocks_; }
  /// Expected sizes of the coefficients of the nuisances; empty where none acts.
  const std::vector<double>& nuisance_sd() const { return nuisance_sd_; }
  /// Its place among the quantities of effects().
  int quantity() const { return quantity_; }

 private:
  friend std::vector<Measured> measure(const std::vector<Block>&, const Panel&, const Windows&,
                                       const Eigen::MatrixXd&, const Eigen::MatrixXd&,
                                       const std::vector<ScalePriors>&, const ScaleGrid&);
  Eigen::VectorXd unit(int setting) const;
  std::shared_ptr<const Effects> effects_;
  Posterior posterior_;
  std::vector<int> columns_;  ///< of the layout, per setting; -1 where not counted
  std::vector<int> blocks_;
  std::vector<double> nuisance_sd_;
  int quantity_ = 0;
};

/// Solves the model for every quantity. Those that miss the same blocks share their factors.
/// Shapes: y blocks x quantities, NaN where a quantity has no mean in a block; nuisances blocks x r
/// or empty (see Layout::nuisances); priors one a quantity.
std::vector<Measured> measure(const std::vector<Block>& blocks, const Panel& panel,
                              const Windows& windows, const Eigen::MatrixXd& y,
                              const Eigen::MatrixXd& nuisances,
                              const std::vector<ScalePriors>& priors, const ScaleGrid& grid = {});

/// The ways of settling over which the model is integrated: the chamber's lag as the windows found
/// it (where they had to borrow it, three, at the Gauss-Hermite places of a normal law of its
/// logarithm with their 68 % range).
struct SettlingNodes {
  std::vector<Settling> settling;
  std::vector<double> weight;
};
SettlingNodes settling_nodes(const Windows& windows);

}  // namespace pitwright::call
