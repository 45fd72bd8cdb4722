#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pit/burn.h"

namespace pitwright::safety {

/// +- at 95 % of a probe that nobody checked [K] (4 degF; common practice, no source).
inline constexpr double unchecked_k = 4.0 / 1.8;

/// Above this no probe is taken to sit in food: its tip is in the air or broken [degC]. Moist food
/// stays near the boil of its water; our own choice.
inline constexpr double hottest_food_c = 105.0;
inline constexpr double coldest_food_c = -40.0;

/// Two readings further apart than three times the probe's usual step, but at least 2 min and at
/// most 15 min, have a gap between them (our own choice).
double longest_step_s(const std::vector<double>& seconds);

/// What the probes of one piece say together, at every moment of any of them: how cold the coldest
/// and how warm the warmest spot may be.
/// Shapes: all vectors have one length; seconds ascend strictly.
struct Trace {
  std::vector<double> seconds;
  std::vector<double> coldest_c;    ///< corrected reading of the coldest probe [degC]
  std::vector<double> credited_c;   ///< the same less each probe's tolerance, coldest
  std::vector<double> warmest_c;    ///< corrected reading of the warmest probe
  std::vector<double> warm_high_c;  ///< with its tolerance added
  /// Whether the stretch from the reading before to this one was watched by all probes in place.
  std::vector<bool> joined;
  int probes = 0;
  double dropped = 0.0;    ///< readings left out as impossible in food
  bool unchecked = false;  ///< a probe in it was never checked

  bool empty() const { return seconds.empty(); }
};

/// The trace of a piece: all food probes of that name, from `from_s` on. Probes read by hand (a
/// usual step beyond 15 min) count at their own readings only; any other probe that is in place but
/// has no reading makes a gap, for it may have been in the coldest spot.
Trace trace_of(const Burn& burn, const std::string& piece, std::optional<double> from_s);

/// Two temperatures [degC].
struct Band {
  double low_c = 0.0, high_c = 0.0;
};

/// Time between `from_s` and `to_s` in which a piece was, or may have been, between two
/// temperatures: its coldest spot below the upper and its warmest above the lower one. Between two
/// readings a straight line.
struct BandTime {
  double read_s = 0.0;    ///< as the probes read
  double unread_s = 0.0;  ///< no readings; counted with it
  double most_s = 0.0;    ///< as it may be within the tolerances, unread time in it
  double counted_s() const { return read_s + unread_s; }
};

BandTime time_between(const Trace& trace, Band band, double from_s, double to_s);

/// The same below a limit.
BandTime time_below(const Trace& trace, double limit_c, double from_s, double to_s);

}  // namespace pitwright::safety
