#pragma once

namespace pitwright::numeric {

/// Log density at x >= 0 of the size of a Student t variable with 4 degrees of freedom times
/// `scale`.
///   ln p(x) = ln(2 * 3/8 / scale) - 5/2 ln(1 + (x / scale)^2 / 4)
/// Pre:    scale > 0, x >= 0.
/// Source: Gelman, "Prior distributions for variance parameters in hierarchical models", Bayesian
///         Analysis 1 (2006): half-t priors for scales; the density of t with 4 degrees of freedom
///         at 0 is 3/8, from memory and tested against Boost.Math.
double log_half_t4(double x, double scale);

}  // namespace pitwright::numeric
