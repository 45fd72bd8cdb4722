#pragma once

#include <vector>

#include "lay/integrate.h"
#include "lay/lay.h"

namespace pitwright::lay {

/// Every spot predicted from all others, all its settings left out together; scales weighed anew.
///   residual_i = Q_ii^-1 (Q z)_i,  covariance Q_ii^-1 (the thermometer's error included)
/// Source: Dubrule, "Cross validation of kriging in a unique neighborhood", Math. Geology 15
/// (1983). Empty with fewer than two spots. Order: spot by spot, settings in order.
std::vector<LeftOut> leave_one_out(const Data& data, const std::vector<Weighted>& points);

}  // namespace pitwright::lay
