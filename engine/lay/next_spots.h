#pragma once

#include "lay/lattice.h"
#include "lay/lay.h"

namespace pitwright::lay {

/// Where further probes would take most from the maps' mean variance, one after the other.
///   fall(c) = mean over places x and settings of C(x, c) S(c)^-1 C(x, c)'
/// C the posterior covariances of the runs with the air at c at all settings, S its covariance with
/// what a thermometer adds. Places and candidates are an 8 x 6 lattice of each grate.
std::vector<NextSpot> next_spots(const Posterior& posterior, const std::vector<Lattice>& grates,
                                 int count);

}  // namespace pitwright::lay
