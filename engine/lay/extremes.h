#pragma once

#include "lay/draws.h"
#include "lay/lay.h"

namespace pitwright::lay {

/// The hottest (sign +1) or coolest (-1) place of a grate.
///   chance: share of draws whose own extreme lies within `within_m` of the place; the place is the
///   draws' extreme with most others around it. within_m: a sixth of the grate's diagonal.
Extreme extreme_of(const Lattice& lattice, const Moments& moments, const Draws& draws, int setting,
                   double sign);

/// Share of cells within the band, a draw at a time: its mean and 95 % range over the draws.
Estimate share_within(const Draws& draws, double center_c, double band_k);

/// The largest upright rectangle whose nodes are all within the band in at least `chance` of the
/// draws; of equally large ones the surer. Empty where no cell has the chance.
std::optional<Rectangle> usable_rectangle(const Lattice& lattice, const Draws& draws,
                                          double center_c, double band_k, double chance);

}  // namespace pitwright::lay
