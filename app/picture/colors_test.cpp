#include "picture/colors.h"

#include <array>
#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "base/expects.h"

namespace pitwright::picture {
namespace {

using Rgb = std::array<double, 3>;

Rgb linear(const std::string& color) {
  Rgb rgb{};
  for (std::size_t k = 0; k < 3; ++k) {
    const double c = std::stoi(color.substr(1 + 2 * k, 2), nullptr, 16) / 255.0;
    rgb[k] = c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  }
  return rgb;
}

/// Relative luminance. Source: IEC 61966-2-1, ITU-R BT.709 weights: what a grey print keeps.
double luminance(const std::string& color) {
  const auto rgb = linear(color);
  return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
}

TEST(HeatScale, StepsAreRoundAndReachTheLargest) {
  for (const double largest : {0.3, 1.0, 4.9, 10.0, 12.1, 22.0, 60.0, 61.0, 480.0}) {
    const HeatScale scale(largest);
    EXPECT_GE(scale.top() * (1.0 + 1e-12), largest);
    EXPECT_LE(scale.bands(), 6);
    EXPECT_GE(scale.bands(), 2);
    const double lead = scale.step() / std::pow(10.0, std::floor(std::log10(scale.step()) + 1e-9));
    EXPECT_TRUE(std::abs(lead - 1) < 1e-9 || std::abs(lead - 2) < 1e-9 || std::abs(lead - 5) < 1e-9)
        << scale.step();
    const auto limits = scale.limits();
    ASSERT_EQ(std::ssize(limits), 2 * scale.bands() + 1);
    for (std::size_t k = 1; k < limits.size(); ++k) {
      EXPECT_NEAR(limits[k] - limits[k - 1], scale.step(), 1e-9);
    }
    EXPECT_EQ(limits[static_cast<std::size_t>(scale.bands())], 0.0);
  }
}

TEST(HeatScale, RefusesWhatHasNoSize) {
  EXPECT_THROW(HeatScale(0.0), ContractError);
  EXPECT_THROW(HeatScale{INFINITY}, ContractError);
}

TEST(HeatScale, DarkensEvenlyOutwardOnEachSide) {
  const HeatScale scale(60.0);
  const int n = scale.bands();
  const auto falls = [&](int first, int direction) {
    std::vector<double> steps;
    for (int k = 1; k < n; ++k) {
      steps.push_back(lightness(scale.color(first + direction * (k - 1))) -
                      lightness(scale.color(first + direction * k)));
    }
    return steps;
  };
  for (const auto& steps : {falls(n, 1), falls(n - 1, -1)}) {
    for (const double step : steps) {
      EXPECT_GT(step, 0.03);                   // to be seen
      EXPECT_NEAR(step, steps.front(), 0.01);  // rounding to 8 bits a channel
    }
  }
}

TEST(HeatScale, StaysMonotoneInGreyPrint) {
  for (const double largest : {10.0, 25.0, 60.0}) {
    const HeatScale scale(largest);
    for (int k = 1; k < 2 * scale.bands(); ++k) {
      const double before = luminance(scale.color(k - 1)), here = luminance(scale.color(k));
      if (k == scale.bands()) continue;  // the two sides of zero
      EXPECT_EQ(here > before, k < scale.bands()) << k;
    }
    EXPECT_LT(luminance(scale.color(0)), 0.7 * luminance(scale.color(2 * scale.bands() - 1)));
  }
}

// Source: G. Machado, M. Oliveira, L. Fernandes, IEEE TVCG 15 (2009), Table 1, severity 1.0, from
// memory: what protanopes and deuteranopes see of a color.
TEST(HeatScale, SidesDifferForColorBlindEyes) {
  const double views[2][3][3] = {{{0.152286, 1.052583, -0.204868},
                                  {0.114503, 0.786281, 0.099216},
                                  {-0.003882, -0.048116, 1.051998}},
                                 {{0.367322, 0.860646, -0.227968},
                                  {0.280085, 0.672501, 0.047413},
                                  {-0.011820, 0.042940, 0.968881}}};
  const HeatScale scale(60.0);
  for (const auto& view : views) {
    const auto blue_over_red = [&](const std::string& color) {
      const auto rgb = linear(color);
      const auto seen = [&](const double(&row)[3]) {
        return row[0] * rgb[0] + row[1] * rgb[1] + row[2] * rgb[2];
      };
      return seen(view[2]) / std::max(seen(view[0]), 1e-3);
    };
    for (int k = 1; k < scale.bands(); ++k) {
      EXPECT_GT(blue_over_red(scale.color(scale.bands() - 1 - k)), 1.15);
      EXPECT_LT(blue_over_red(scale.color(scale.bands() + k)), 0.85);
    }
  }
}

TEST(Lightness, KnowsBlackAndWhite) {
  EXPECT_NEAR(lightness("#000000"), 0.0, 1e-9);
  EXPECT_NEAR(lightness("#ffffff"), 1.0, 1e-6);
}

}  // namespace
}  // namespace pitwright::picture
