#pragma once

#include <vector>

namespace pitwright::call {

/// Block means of one series over a burn, for the warm-up model.
struct WarmupData {
  std::vector<double> t_s;                    ///< block centers
  std::vector<double> y;                      ///< block means [K or degC]
  std::vector<int> stint;                     ///< -1: before the first stint
  std::vector<std::vector<double>> settings;  ///< settings x blocks: how far each is approached
  double from_s = 0.0;                        ///< t0 of the model
  double slope_sd_k_h = 2.0;                  ///< prior sd of a straight drift
  bool rises_only = false;                    ///< the rest cannot be negative: a level warms up
};

/// The warm-up under one time constant and one size of the random walk.
struct WarmupPart {
  double weight;               ///< posterior, sums to one over all parts
  double tau_s, mean_k, sd_k;  ///< of the rest at t0
};

struct Warmup {
  double log_odds = 0.0;  ///< natural log of the evidence for a warm-up against none
  std::vector<WarmupPart> parts;
  bool rises_only = false;

  /// Probability that less than `bar_k` (in size) is still to come within `stretch_s` after t.
  double chance_below(double bar_k, double t, double from_s, double stretch_s) const;
  /// Posterior mean of the amplitude and time constant.
  double mean_k() const;
  double mean_tau_s() const;
};

/// Pre: at least six blocks.
Warmup fit_warmup(const WarmupData& data);

}  // namespace pitwright::call
