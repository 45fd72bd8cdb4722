#pragma once

#include <array>
#include <utility>
#include <vector>

#include "call/blocks.h"
#include "call/effects.h"
#include "design/habits.h"

namespace pitwright::design {

/// Stints in a row, all of one length, in a soaked pit.
struct Schedule {
  std::vector<int> order;  ///< setting of each stint
  double dwell_s = 2100.0;
  /// The pit soaked at the first setting, so the first stint counts from its start.
  bool set_before = true;
};

/// Chance of each word at the end of a burn that nothing muddled.
struct Chances {
  double clear = 0.0, no_odds = 0.0, too_close = 0.0, not_yet = 0.0;
};

/// What a plan will be able to tell of one change.
struct Resolution {
  /// Half of the single 95 % range: the middle one of the burns, and what 8 burns in 10 lie
  /// between.
  double half_width_k = 0.0, low_k = 0.0, high_k = 0.0;
  std::array<Chances, 3> chances;  ///< where the true change is 0, matters, twice matters
};

/// One question to a plan.
struct Ask {
  const std::vector<call::Scales>& law;  ///< each as likely as any other
  double factor = 1.0;                   ///< of all three scales
  /// Those that the call will use, leaks among them, each as likely; empty: the plain ones.
  std::vector<call::ScalePriors> priors;
  int series = 1;  ///< how many stand in the same table: spots
  double matters_k = 10.0 / 1.8;
};

/// A change as one made-up burn would tell it.
struct Told {
  double value;         ///< with this burn's errors
  double single;        ///< half of the single range
  double below, above;  ///< reach of the range that the word is read from
};

/// A plan as the call will see it: its windows and blocks, without a reading yet.
class Outlook {
 public:
  /// Pre: two settings or more, each with a stint; dwell above zero.
  Outlook(const Schedule& schedule, const Habits& habits, double matters_k);

  /// What the call would say of made-up errors: for each draw of scales from the law, block means
  /// by the model's own covariance, solved by the call's own estimator (docs/methods/design.md).
  /// The same arguments give the same bits. All changes between settings are taken together.
  Resolution resolve(const Ask& ask) const;

  /// Root of the middle variance of a change over a few draws of the law, were the scales known
  /// [K]: cheap, for comparing plans.
  double quick_sd_k(const Ask& ask) const;

  /// What counts of a stint that follows a change [s].
  double counted_s() const { return counted_s_; }

 private:
  /// Block means of made-up burns at one true change [K]: a column a draw; to `sds` goes, pairs
  /// within draws, what each change would scatter by, were its scales known.
  Eigen::MatrixXd made_up(const Ask& ask, double truth_k, std::vector<double>& sds) const;
  /// What the call says of them, pairs within draws.
  std::vector<Told> told(const Ask& ask, double truth_k, std::vector<double>& sds) const;
  Eigen::VectorXd effects(double truth_k) const;
  Eigen::VectorXd contrast(std::pair<int, int> pair) const;
  Eigen::MatrixXd covariance(const Eigen::MatrixXd& lower) const;

  call::Panel panel_;
  call::Windows windows_;
  std::vector<call::Block> blocks_;
  call::Layout layout_;    ///< one lag node: the lag as it is known
  Eigen::MatrixXd leaks_;  ///< what is still to come of a level that changes by 1 K at every change
  std::vector<std::pair<int, int>> pairs_;
  double counted_s_ = 0.0;
  double stirred_share_ = 0.0;  ///< drift that a change brings [1 per root hour]
};

}  // namespace pitwright::design
