#include "food/exact.h"

#include <cmath>
#include <numbers>

#include <boost/math/special_functions/bessel.hpp>

#include "base/expects.h"

namespace pitwright::food {

namespace {

using std::numbers::pi;

double J(int order, double z) {
  return boost::math::cyl_bessel_j(order, z);
}

/// Rises through zero at the root, without poles between `low` and `high`.
double residual(Body body, double biot, double z) {
  switch (body) {
    case Body::slab:
      return z * std::sin(z) - biot * std::cos(z);
    case Body::cylinder:
      return z * J(1, z) - biot * J(0, z);
    default:
      return (1 - biot) * std::sin(z) - z * std::cos(z);
  }
}

double shape(Body body, double x) {
  switch (body) {
    case Body::slab:
      return std::cos(x);
    case Body::cylinder:
      return J(0, x);
    default:
      return std::abs(x) < 1e-8 ? 1 : std::sin(x) / x;
  }
}

/// One root lies between neighbors of this series: poles of the tangent, zeros of J1, of sin.
double border(Body body, int n) {
  if (n == 0) return 0;
  switch (body) {
    case Body::slab:
    case Body::sphere:
      return n * pi;
    default:
      return boost::math::cyl_bessel_j_zero(1.0, n);
  }
}

double series(Body body, double biot, double fourier, double xi, int terms) {
  double theta = 0;
  for (int n = 0; n < terms; ++n) {
    const double z = eigenvalue(body, biot, n);
    const double decay = std::exp(-z * z * fourier);
    theta += coefficient(body, z) * decay * shape(body, z * xi);
    if (decay < 1e-14) break;
  }
  return theta;
}

}  // namespace

double eigenvalue(Body body, double biot, int n) {
  expects(biot > 0 && n >= 0);
  double low = border(body, n), high = border(body, n + 1);
  if (n == 0) low = 1e-12;
  const bool rises = residual(body, biot, low + 1e-9 * (high - low)) < 0;
  for (int i = 0; i < 200 && high - low > 1e-15 * high; ++i) {
    const double middle = (low + high) / 2;
    ((residual(body, biot, middle) < 0) == rises ? low : high) = middle;
  }
  return (low + high) / 2;
}

double coefficient(Body body, double z) {
  switch (body) {
    case Body::slab:
      return 4 * std::sin(z) / (2 * z + std::sin(2 * z));
    case Body::cylinder:
      return 2 / z * J(1, z) / (J(0, z) * J(0, z) + J(1, z) * J(1, z));
    default:
      return 4 * (std::sin(z) - z * std::cos(z)) / (2 * z - std::sin(2 * z));
  }
}

double exact_theta(Body body, double biot, double fourier, double xi) {
  expects(fourier > 0);
  return series(body, biot, fourier, xi, 200);
}

double exact_fourier(Body body, double biot, double theta, double xi, int terms) {
  expects(theta > 0 && theta < 1);
  double low = 1e-4, high = 1;
  while (series(body, biot, high, xi, terms) > theta) high *= 2;
  for (int i = 0; i < 100 && high - low > 1e-13 * high; ++i) {
    const double middle = (low + high) / 2;
    (series(body, biot, middle, xi, terms) > theta ? low : high) = middle;
  }
  return (low + high) / 2;
}

}  // namespace pitwright::food
