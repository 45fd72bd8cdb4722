#pragma once

#include <vector>

namespace pitwright::numeric {

/// A range [low, high].
struct Interval {
  double low, high;
};

/// One normal of a mixture.
struct Component {
  double weight, mean, sd;
};

/// A weighted sum of normals: what remains of a number once the unknown scales are integrated over
/// a grid. Weights are positive and sum to 1; sds are positive.
struct NormalMixture {
  std::vector<Component> components;
};

/// Scales the weights to sum 1. Pre: at least one component, every weight >= 0, one of them > 0.
NormalMixture normalized(std::vector<Component> components);

double mean(const NormalMixture& mixture);
double sd(const NormalMixture& mixture);

/// Chance of a value at or below x. Accuracy: 1e-9 of itself in the lower tail.
double cdf(const NormalMixture& mixture, double x);

/// The x that the mixture exceeds with chance `p`; sharp in both tails.
/// Pre:      0 < p < 1.
/// Accuracy: 1e-9 of the mixture's sd.
double upper_quantile(const NormalMixture& mixture, double p);

/// The x below which the mixture lies with chance `p`. As upper_quantile.
double lower_quantile(const NormalMixture& mixture, double p);

/// The range that leaves out `error` / 2 on each side.
Interval central_interval(const NormalMixture& mixture, double error);

}  // namespace pitwright::numeric
