#include "numeric/students_t.h"

#include <cmath>
#include <numbers>

#include <boost/math/distributions/students_t.hpp>

#include "base/expects.h"

namespace pitwright::numeric {

double students_t_upper_quantile(double p, double degrees) {
  expects(p > 0.0 && p < 1.0 && degrees > 0.0);
  return boost::math::quantile(
      boost::math::complement(boost::math::students_t_distribution<double>(degrees), p));
}

double normal_cdf(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

}  // namespace pitwright::numeric
