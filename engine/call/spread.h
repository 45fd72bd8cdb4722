#pragma once

#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "call/tables.h"

namespace pitwright::call {

/// The spread, hottest minus coolest level spot.
class Spread {
 public:
  /// Pre: both outlive the object.
  Spread(const Tables& tables, const Panel& panel);

  /// The spread at a setting.
  ///   value: median over joint draws of the spots' laws, the runs drawn in towards the level as
  ///   far
  ///          as their scatter is no more than their error, for a maximum minus a minimum of noisy
  ///          numbers is too large;
  ///   range: [largest lower limit (>= 0), largest upper limit] of the simultaneous ranges of all
  ///          pairwise differences, each widened by its two probes: at least 1 - error.
  /// Empty where the setting was not counted or there are fewer than two level spots.
  std::optional<Estimate> at(int setting, double error);

  /// The change of the spread, from joint draws of all spots at both settings and of the probes'
  /// own errors. A probe's error cancels while the same spots stay hottest and coolest, and does
  /// not where the lay turns round: the draws know which. Smaller errors than 0.05 widen the 95 %
  /// range as they widen that of the change of the widest pair.
  std::optional<Estimate> change(int from, int to, double error);

  /// The pair that is widest by posterior mean at a setting; -1 where there is none.
  int widest_pair(int setting);

 private:
  bool has(int setting) const;
  const numeric::NormalMixture& law(int pair, int setting);
  numeric::Interval widened(int pair, int setting, double error);
  void make_draws();
  std::vector<double> draws(int setting, bool with_probes);

  const Tables& tables_;
  const Panel& panel_;
  std::map<std::pair<int, int>, numeric::NormalMixture> laws_;
  std::vector<Eigen::MatrixXd> runs_, with_probes_;  ///< per setting: spots x draws
};

}  // namespace pitwright::call
