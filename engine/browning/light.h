#pragma once

#include <array>
#include <span>

namespace pitwright::browning {

/// How bright one even material looked at a place of the grate.
struct LightSample {
  double x, y;  ///< shares of the grate's width and depth
  double log_luminance;
};

/// How the light falls off over the grate: a low surface in the logarithm of the luminance.
///   ln E = c0 + c1 u + c2 v + c3 u^2 + c4 u v + c5 v^2,   u = 2x - 1, v = 2y - 1
struct LightField {
  std::array<double, 6> coefficient{};
  double residual_sd = 0.0;  ///< robust, in ln: 0.05 is 5 % of the light
  int samples = 0;

  /// ln of the light at a place, held at the edge of the grate beyond a tenth of it outside.
  double log_at(double x, double y) const;
  /// Brightest over darkest on a 9 x 9 lattice of the grate.
  double ratio() const;
};

/// Fits the surface, deaf to a few samples of another material: least squares reweighted with
/// Tukey's biweight at 4.685 robust sds. As many terms as the samples carry: a plane from 4
/// samples, the whole surface from 12, a mere level below 4. Source: Huber & Ronchetti, Robust
/// Statistics; the constant from memory.
LightField fit_light(std::span<const LightSample> samples);

}  // namespace pitwright::browning
