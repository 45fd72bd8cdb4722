#pragma once

namespace pitwright::numeric {

/// The value that Student's t with `degrees` degrees of freedom exceeds with chance `p`.
/// Pre:    0 < p < 1, degrees > 0.
/// Source: Boost.Math.
double students_t_upper_quantile(double p, double degrees);

/// Chance that a standard normal lies at or below z.
double normal_cdf(double z);

}  // namespace pitwright::numeric
