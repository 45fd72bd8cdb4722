#pragma once

#include "lay/lay.h"
#include "lay/toast.h"

namespace pitwright::lay {

/// A node of a map with its 95 % range.
struct ToastPlace {
  Place place;
  double value_k, low_k, high_k;
};

/// The joint map and what toast shows beside the air, in a few numbers.
struct ToastSummary {
  ToastPlace hottest, coolest;  ///< runs of the air
  double sd_k, sd_alone_k;      ///< median over the grate: joined, thermometers alone
  ToastPlace disagreement;      ///< d / b where it is surest: largest against its sd
  double chance_matters = 0.0;  ///< there, that it is more than what matters
  double share = 0.0;           ///< of the grate where its range holds no zero

  bool disagrees() const { return disagreement.low_k > 0.0 || disagreement.high_k < 0.0; }
};

/// Pre: the toast was joined with this grate of the lay.
ToastSummary summary_of(const GrateLay& alone, const ToastLay& toast);

}  // namespace pitwright::lay
