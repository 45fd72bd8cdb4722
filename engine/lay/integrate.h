#pragma once

#include <vector>

#include "lay/solve.h"

namespace pitwright::lay {

/// What nobody knows of a lay before the burn; medians and sds of logarithms, lengths as shares of
/// the chamber's. The size has a half-t prior with 4 degrees of freedom.
/// Source: our own choice; docs/methods/lay.md says what it was held against.
struct ShapePriors {
  double size_k = 6.0;
  double tilt_share = 1.0, tilt_log_sd = 0.7;                    ///< tilt / size
  double local_k = 1.0, local_share = 0.15, local_log_sd = 0.8;  ///< local: hypot(k, share x size)
  double length_share = 0.5, length_log_sd = 0.5;
  double own_odds = 0.35, own_log_sd = 1.0;  ///< odds of own_share; one setting: not used
};

/// A set of scales with its weight in the posterior.
struct Weighted {
  double weight;
  Solved solved;
};

/// Integrates the unknown scales: the posterior as weighted points. Deterministic: a lattice of
/// equidistributed points through a normal proposal, moved once or twice to where the posterior
/// lies; all rounds count, each by posterior over the mixture of proposals.
/// Weights sum to 1; points with less than 1e-5 of the largest weight are dropped.
/// Source: Cornuet, Marin, Mira & Robert, "Adaptive multiple importance sampling", Scandinavian
///         Journal of Statistics 39 (2012).
std::vector<Weighted> integrate(const Data& data, const ShapePriors& priors = {});

/// Log prior density of a shape in the coordinates of the integration (logarithms; logit of
/// own_share).
double log_prior(const Data& data, const Shape& shape, const ShapePriors& priors);

/// At most `count` of them that stand for all: evenly spaced ranks of `rank`, one number a point;
/// weights are multiples of 1 / count.
std::vector<Weighted> fewer(const std::vector<Weighted>& points, const std::vector<double>& rank,
                            int count);

}  // namespace pitwright::lay
