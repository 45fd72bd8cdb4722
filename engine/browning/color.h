#pragma once

namespace pitwright::browning {

/// Linear light of a display's three primaries, 0 to 1 for what a camera can hold.
struct Linear {
  double red, green, blue;
};

/// A color as a person sees it: L* from 0 (black) to 100 (white), a* green to red, b* blue to
/// yellow. White is D65, the observer that of 2 degrees.
struct Lab {
  double lightness, a, b;
};

/// Linear light of a picture's stored value, both 0 to 1.
/// Source: IEC 61966-2-1 (sRGB), the constants from memory, tested against its published grays.
double linear_of_srgb(double stored);

/// Luminance Y, 1 for white. Source: the second row of the sRGB matrix (ITU-R BT.709 primaries).
double luminance(const Linear& color);

/// Lightness L* of a luminance, 1 for white.
///   L* = 116 Y^(1/3) - 16, or (29/3)^3 Y below Y = (6/29)^3
/// Source: CIE 15, CIELAB.
double lightness(double luminance);

/// CIELAB of linear sRGB under its own white.
Lab lab_of(const Linear& color);

}  // namespace pitwright::browning
