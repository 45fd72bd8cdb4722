#pragma once

#include <span>
#include <vector>

#include "call/seen.h"
#include "pit/burn.h"

namespace pitwright::call {

/// A lid that was opened, and how long the air took to come back.
struct Opening {
  double from_s, until_s;  ///< open
  double clear_s;          ///< recovered to within a tenth of *matters*, as modelled
  double depth_k;          ///< how far the level had fallen when it was shut
  bool is_marked;
};

/// Marked openings and those that look like one, in order of time.
///   recovery: T(t) = base + rest - depth exp(-(t - until) / tau)
///   clear = until + tau ln(largest depth of a spot / (matters / 10)), at most 3 min + 5 x open
/// An unmarked one is a sharp fall of most spots together, far beyond what this fire does on its
/// own, that comes back; see docs/methods/windows.md. Nothing after seen.end_s() is used.
std::vector<Opening> openings_of(const Burn& burn, const Seen& seen);

/// How a series comes back: y = base + rest - depth exp(-(t - until) / tau), rest held near zero.
struct Return {
  double tau_s, depth_k;
};

/// The best fit over taus of 15 s to 17 min; depth 0 where nothing can be fitted. One value a
/// moment of `seen`.
Return return_of(std::span<const double> y, const Seen& seen, double base, double until_s,
                 double to_s);

}  // namespace pitwright::call
