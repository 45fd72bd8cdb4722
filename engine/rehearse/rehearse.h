#pragma once

#include <cstdint>
#include <vector>

#include "base/result.h"
#include "pit/burn.h"
#include "rehearse/model.h"
#include "rehearse/plan.h"
#include "rehearse/thermometers.h"
#include "rehearse/truth.h"

namespace pitwright::rehearse {

/// A made-up burn: what its people would have, and what only we know.
struct RehearsedBurn {
  /// Stints, probes and marked events. Readings are on the stamps of each logger's own clock: a
  /// clock that is ahead is ahead here too.
  Burn burn;
  std::vector<LoggerRecord> logs;  ///< the same readings as the loggers wrote them
  Truth truth;                     ///< over the spots that carry a thermometer, if it was asked for
  std::vector<Shift> resettings;   ///< for each stint, what re-setting really did
  double fuel_j = 0;               ///< burned from the burn's zero on
  double empty_at_s = 0;           ///< when the fuel ran out; infinity: it did not
};

struct RehearseOptions {
  bool with_truth = true;  ///< the truth costs about as much as the burn
};

/// Burns the pit through the plan. The same arguments give the same bits.
/// Fails: bad_input where the plan names a setting the pit does not have, has no stint or a dwell
///        under one minute, or where the model or kit does not hold together (see check()).
Result<RehearsedBurn> rehearse(const PitModel& model, const Kit& kit, const Plan& plan,
                               std::uint64_t seed, const RehearseOptions& options = {});

/// bad_input, naming the field, unless every number of the model is in the range physics allows and
/// the sizes fit each other.
Result<void> check(const PitModel& model, const Kit& kit, const Plan& plan);

/// One logger, one thermometer a spot named as the spot, and the dial: what most people have.
Kit plain_kit(const PitModel& model);

/// The settings as named, each for `dwell_s`.
Plan plain_plan(const std::vector<std::string>& settings, double dwell_s);

}  // namespace pitwright::rehearse
