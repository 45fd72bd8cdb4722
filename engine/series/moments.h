#pragma once

#include <span>

namespace pitwright::series {

/// Mean of the finite values; NaN where there is none. Two passes: the second adds the mean of what
/// the first left over, so a large common part costs no digits.
/// Source: Chan, Golub & LeVeque, "Algorithms for computing the sample variance", The American
/// Statistician 37 (1983); the corrected two-pass rule.
double mean(std::span<const double> values);

/// Sample standard deviation (n - 1) of the finite values; NaN below two. Corrected two-pass rule.
double standard_deviation(std::span<const double> values);

/// Lag-1 autocorrelation, sum (x_t - m)(x_t+1 - m) / sum (x_t - m)^2 over neighbors that are both
/// finite; NaN where the series does not vary. Source: the definition of NIST StRD's univariate
/// sets.
double lag1_autocorrelation(std::span<const double> values);

}  // namespace pitwright::series
