#include "browning/color.h"

#include <cmath>

namespace pitwright::browning {
namespace {

constexpr double knee = 6.0 / 29.0;

/// Cube root with a straight foot.
double f(double t) {
  return t > knee * knee * knee ? std::cbrt(t) : t / (3.0 * knee * knee) + 4.0 / 29.0;
}

}  // namespace

double linear_of_srgb(double stored) {
  return stored <= 0.04045 ? stored / 12.92 : std::pow((stored + 0.055) / 1.055, 2.4);
}

double luminance(const Linear& color) {
  return 0.2126 * color.red + 0.7152 * color.green + 0.0722 * color.blue;
}

double lightness(double luminance) {
  return 116.0 * f(luminance) - 16.0;
}

Lab lab_of(const Linear& color) {
  // Rows over their own sums: white is exactly (1, 1, 1).
  const double x = (0.4124 * color.red + 0.3576 * color.green + 0.1805 * color.blue) / 0.9505;
  const double y = luminance(color);
  const double z = (0.0193 * color.red + 0.1192 * color.green + 0.9505 * color.blue) / 1.0890;
  return {116.0 * f(y) - 16.0, 500.0 * (f(x) - f(y)), 200.0 * (f(y) - f(z))};
}

}  // namespace pitwright::browning
