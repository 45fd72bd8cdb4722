#pragma once

#include <span>
#include <vector>

namespace pitwright::series {

/// Median of the finite values; NaN where there is none.
double median(std::span<const double> values);

/// 1.4826 x median absolute deviation from the median: the sd of a normal sample with few outliers.
/// NaN where there is no finite value.
/// Source: the factor is 1 / Phi^-1(3/4), from memory.
double robust_sd(std::span<const double> values);

}  // namespace pitwright::series
