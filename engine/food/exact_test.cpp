#include "food/exact.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace pitwright::food {
namespace {

// Source: the table of first roots and coefficients in Incropera & DeWitt, Fundamentals of Heat and
// Mass Transfer, table 5.1 (four decimals; remembered, and worked out again apart from this code).
TEST(Eigenvalue, MatchesTheTextbookTable) {
  struct Row {
    double biot, slab, slab_c, cyl, cyl_c, sphere, sphere_c;
  };
  constexpr double half_digit = 5.1e-5;
  for (const auto& r : {Row{.01, .0998, 1.0017, .1412, 1.0025, .1730, 1.0030},
                        Row{.2, .4328, 1.0311, .6170, 1.0483, .7593, 1.0592},
                        Row{1, .8603, 1.1191, 1.2558, 1.2071, 1.5708, 1.2732},
                        Row{5, 1.3138, 1.2402, 1.9898, 1.5029, 2.5704, 1.7870},
                        Row{10, 1.4289, 1.2620, 2.1795, 1.5677, 2.8363, 1.9249},
                        Row{100, 1.5552, 1.2731, 2.3809, 1.6015, 3.1102, 1.9990}}) {
    const double z[] = {eigenvalue(Body::slab, r.biot), eigenvalue(Body::cylinder, r.biot),
                        eigenvalue(Body::sphere, r.biot)};
    EXPECT_NEAR(z[0], r.slab, half_digit) << r.biot;
    EXPECT_NEAR(z[1], r.cyl, half_digit) << r.biot;
    EXPECT_NEAR(z[2], r.sphere, half_digit) << r.biot;
    EXPECT_NEAR(coefficient(Body::slab, z[0]), r.slab_c, half_digit);
    EXPECT_NEAR(coefficient(Body::cylinder, z[1]), r.cyl_c, half_digit);
    EXPECT_NEAR(coefficient(Body::sphere, z[2]), r.sphere_c, half_digit);
  }
}

// Full series of 200 terms, worked out apart from this code.
TEST(ExactTheta, OfCenterAndSurfaceHasSixDecimals) {
  struct Row {
    Body body;
    double biot, fourier, center, surface;
  };
  for (const auto& r :
       {Row{Body::slab, .5, .1, .996321, .843899}, Row{Body::slab, 2, 1, .369556, .175201},
        Row{Body::slab, 10, .02, 1.000000, .336204}, Row{Body::cylinder, .5, .2, .926659, .740824},
        Row{Body::cylinder, 10, .05, .993672, .200930}, Row{Body::sphere, 2, .1, .912394, .447159},
        Row{Body::sphere, 10, .5, .034478, .003654}, Row{Body::sphere, .5, 1, .294078, .231872}}) {
    EXPECT_NEAR(exact_theta(r.body, r.biot, r.fourier, 0), r.center, 1e-6);
    EXPECT_NEAR(exact_theta(r.body, r.biot, r.fourier, 1), r.surface, 1e-6);
  }
}

// Source: Cengel, Heat Transfer, problem on cooling steaks: half thickness 10 mm, k 0.45,
// alpha 0.91e-7, h 9, from 25 degC in air of -11 degC until the surface is at 2 degC: 93.1 min.
TEST(TextbookCase, SteaksCoolInNinetyThreeMinutes) {
  const double biot = 9 * .01 / .45, theta = (2.0 + 11) / (25 + 11);
  const double fourier = exact_fourier(Body::slab, biot, theta, 1);
  const double seconds = fourier * .01 * .01 / .91e-7;
  EXPECT_NEAR(seconds, 5586.4, .05);
  EXPECT_NEAR(seconds / 60, 93.1, .1);  // as the book prints it
}

// Source: Kreith & Bohn, Principles of Heat Transfer: roast of 1.5 kg as a sphere, rho 1000,
// cp 4000, k 0.5, h 18, 20 degC into 163 degC, center 77 degC: 134 min.
TEST(TextbookCase, RoastOfOneAndAHalfKilogramsTakesTwoHoursAndAQuarter) {
  const double R = std::cbrt(1.5 / 1000 * 3 / 4 / std::numbers::pi);
  const double fourier =
      exact_fourier(Body::sphere, 18 * R / .5, (77.0 - 163) / (20.0 - 163), 0, 1);
  EXPECT_NEAR(fourier * R * R / (.5 / 1000 / 4000) / 60, 134.28, 5.1e-3);
}

// Source: Cengel, rib roast of 3.2 kg: its one-term answer (h = 148 here, 156.9 in the book) comes
// of a Fourier number of 0.12, where one term is not enough; the full series gives h = 93.45.
TEST(TextbookCase, OneTermIsNotEnoughForTheRibRoast) {
  const double R = std::cbrt(3.2 / 1200 * 3 / 4 / std::numbers::pi);
  const double fourier = .91e-7 * 9900 / R / R, theta = (60.0 - 163) / (4.5 - 163);
  EXPECT_NEAR(fourier, .12174, 5e-6);
  const auto h = [&](int terms) {
    double low = 1, high = 400;
    for (int i = 0; i < 60; ++i) {
      const double middle = (low + high) / 2;
      const double f = exact_fourier(Body::sphere, middle * R / .45, theta, 0, terms);
      (f > fourier ? low : high) = middle;
    }
    return low;
  };
  EXPECT_NEAR(h(1), 148.2, .3);
  EXPECT_NEAR(h(200), 93.45, .01);
}

}  // namespace
}  // namespace pitwright::food
