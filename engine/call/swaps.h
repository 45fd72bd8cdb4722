#pragma once

#include <vector>

#include "call/panel.h"
#include "call/windows.h"
#include "pit/burn.h"

namespace pitwright::call {

/// What thermometers that changed places show of themselves: two that sat at the same spots one
/// after the other differ there by their own errors, not by the spots.
///   mean over a stint of (spot - reference) = b(spot, setting) + p(thermometer) + rest
/// by least squares over all stints in which such thermometers were read; the reference is the mean
/// of the spots whose thermometer stayed. A swap tells p only as differences, so each trouble
/// (probe_offset) names two thermometers: `where` reads `amount` more than `against`.
/// Told where the difference is beyond 2.5 standard errors and a fifth of *matters*; the sd of the
/// rest is that of the fit, drawn with the weight of two stints towards 0.4 K.
/// Source: least squares, textbook; the limits are our own choice.
std::vector<Trouble> probe_offsets(const Burn& burn, const Panel& panel, const Windows& windows);

}  // namespace pitwright::call
