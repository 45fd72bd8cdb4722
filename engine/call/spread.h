#pragma once

#include <map>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

#include "call/tables.h"

namespace pitwright::call {

/// The spread, hottest minus coolest level spot, from the laws of all pairwise differences. Each law is
/// made once, when first asked for.
class Spread {
 public:
  /// Pre: both outlive the object.
  Spread(const Tables& tables, const Panel& panel);

  /// The spread at a setting.
  ///   value: median over joint draws of the spots' laws, the runs drawn in towards the level as far
  ///          as their scatter is no more than their error, for a maximum minus a minimum of noisy
  ///          numbers is too large;
  ///   range: [largest lower limit (>= 0), largest upper limit] of the simultaneous ranges of all
  ///          pairwise differences, each widened by its two probes: at least 1 - error.
  /// Empty where the setting was not counted or there are fewer than two level spots.
  std::optional<Estimate> at(int setting, double error);

  /// The change of the spread. Probe errors cancel in each pair's change; they matter only for which
  /// pair it is. With P the pairs that may be widest at `from`, Q at `to` (their widened ranges reach
  /// the largest lower limit; a fifth of the error):
  ///   low  = least lower limit of the change of a pair in P
  ///   high = largest upper limit of the change of a pair in Q
  /// because spread_to - spread_from is at least the change of the pair that is widest at `from` and
  /// at most that of the pair that is widest at `to`. At least 1 - error.
  std::optional<Estimate> change(int from, int to, double error);

  /// The pair that is widest by posterior mean at a setting; -1 where there is none.
  int widest_pair(int setting);

 private:
  bool has(int setting) const;
  const numeric::NormalMixture& law(int pair, int setting);
  const numeric::NormalMixture& change_law(int pair, int from, int to);
  numeric::Interval widened(int pair, int setting, double error);
  std::vector<numeric::Interval> all_widened(int setting, double error);
  const std::vector<double>& draws(int setting);

  const Tables& tables_;
  const Panel& panel_;
  std::map<std::pair<int, int>, numeric::NormalMixture> laws_;
  std::map<std::tuple<int, int, int>, numeric::NormalMixture> change_laws_;
  std::vector<Eigen::MatrixXd> spot_draws_;      ///< per setting: spots x draws
  std::map<int, std::vector<double>> draws_;     ///< of the spread, per setting
};

}  // namespace pitwright::call
