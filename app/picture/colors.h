#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pitwright::picture {

// Ink and paper of every page.
inline constexpr std::string_view ink = "#1f2328";
inline constexpr std::string_view soft_ink = "#57606a";
inline constexpr std::string_view hair = "#c9ced4";
inline constexpr std::string_view contour_ink = "#3d444d";
inline constexpr std::string_view paper = "#ffffff";
inline constexpr std::string_view warm_ink = "#9a4a00";
inline constexpr std::string_view cool_ink = "#0f4c8a";

/// Even steps of color around zero: blue below, orange above, paler towards zero. On each side the
/// lightness falls by the same amount from step to step; the cool side ends darker, so that equal
/// greys never stand for equal sizes.
class HeatScale {
 public:
  /// A scale whose steps are 1, 2 or 5 times a power of ten and that reaches `largest` in at most
  /// six steps a side. Pre: 0 < largest, finite.
  explicit HeatScale(double largest);

  double step() const { return step_; }
  int bands() const { return bands_; }  ///< on each side of zero
  double top() const { return step_ * bands_; }

  /// The limits between bands, ascending, from -top to +top: 2 bands + 1 of them.
  std::vector<double> limits() const;

  /// Color "#rrggbb" of the band between limits k and k + 1, k from 0. Pre: 0 <= k < 2 bands.
  std::string color(int band) const;

  friend bool operator==(const HeatScale&, const HeatScale&) = default;

 private:
  double step_;
  int bands_;
};

/// Lightness of a color as the eye sees it, 0 black to 1 white, and as a printer without color
/// gives it. Source: B. Ottosson, "A perceptual color space for image processing" (Oklab), 2020,
/// its matrices, which are given there as public domain; sRGB transfer curve of IEC 61966-2-1.
double lightness(const std::string& color);

}  // namespace pitwright::picture
