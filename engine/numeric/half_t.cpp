#include "numeric/half_t.h"

#include <cmath>

#include "base/expects.h"

namespace pitwright::numeric {

double log_half_t4(double x, double scale) {
  expects(scale > 0.0 && x >= 0.0);
  const double z = x / scale;
  return std::log(0.75 / scale) - 2.5 * std::log1p(0.25 * z * z);
}

}  // namespace pitwright::numeric
