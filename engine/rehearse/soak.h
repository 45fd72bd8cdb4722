#pragma once

#include "rehearse/burning.h"

namespace pitwright::rehearse {

/// Whole rounds of a calm pit are run in these [s]: a hand-fed fire's periods, else a quarter hour.
double round_s(const Fire& fire);

/// Brings a calm pit from the steady state of its mean heat to its cycle; the time after it.
///   held fires: the deep part is put where the wall's mean would bring it, a few times
///   open fires: Newton's method on the map of one round of length T, d = x(end) - x(start):
///               x <- x + (1 - M)^-1 M d, M = exp(J T), J the Jacobian of the rates of
///               plate, air, wall and deep part
double soak(const PitModel& model, Burning& pit);

}  // namespace pitwright::rehearse
