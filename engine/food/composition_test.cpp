#include "food/composition.h"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "food/material.h"
#include "numeric/random.h"

namespace pitwright::food {
namespace {

/// Beef brisket, flat half, lean and fat, raw; USDA SR26, NDB 13805.
const Composition flat{.water = .5907, .protein = .1794, .fat = .2218, .ash = .0081};

void expect_close(double got, double wanted, double relative, const char* what) {
  EXPECT_NEAR(got, wanted, relative * std::abs(wanted)) << what;
}

// Values of Choi & Okos's (1986) polynomials worked out by hand calculator at 20 degC; they catch a
// mistyped coefficient, such as the printed e-3 for the slope of fat's conductivity.
TEST(Component, HasTheValuesOfChoiAndOkosAtTwentyDegrees) {
  struct Row {
    Component which;
    double k, density, cp_kj;
  };
  for (const auto& row :
       {Row{Component::protein, .20164, 1319.53, 2.03185},
        Row{Component::fat, .17512, 917.24, 2.01175}, Row{Component::ash, .35648, 2418.19, 1.12892},
        Row{Component::water, .60366, 995.74, 4.17657},
        Row{Component::carbohydrate, .22743, 1592.89, 1.58567},
        Row{Component::fiber, .20704, 1304.18, 1.88065}}) {
    const auto p = component(row.which, 20);
    EXPECT_NEAR(p.conductivity, row.k, 5.1e-6);
    EXPECT_NEAR(p.density, row.density, 5.1e-3);
    EXPECT_NEAR(p.heat_capacity / 1000, row.cp_kj, 5.1e-6);
  }
  const auto ice = component(Component::ice, -20);
  EXPECT_NEAR(ice.conductivity, 2.38519, 5.1e-6);
  EXPECT_NEAR(ice.density, 919.50, 5.1e-3);
  EXPECT_NEAR(component(Component::fat, 100).conductivity, .15133, 5.1e-6);
}

// The worked example of the method's page; computed apart from this code from the same formulae.
TEST(Mixture, OfBrisketFlatFollowsEveryMixingRule) {
  struct Row {
    double t, density, cp, parallel, series, maxwell, kopelman;
  };
  constexpr double last_digit = 1e-4;
  for (const auto& r : {Row{20, 1026.3285, 3286.965, .440357, .319748, .42274, .43084},
                        Row{60, 1011.9488, 3313.265, .472350, .328497, .44998, .46031}}) {
    const auto parallel = mixture(flat, r.t, Mixing::parallel);
    expect_close(parallel.density, r.density, last_digit, "density");
    expect_close(parallel.heat_capacity, r.cp, last_digit, "heat capacity");
    expect_close(parallel.conductivity, r.parallel, last_digit, "parallel");
    expect_close(mixture(flat, r.t, Mixing::series).conductivity, r.series, last_digit, "series");
    expect_close(mixture(flat, r.t, Mixing::maxwell_eucken).conductivity, r.maxwell, last_digit,
                 "Maxwell-Eucken");
    expect_close(mixture(flat, r.t, Mixing::kopelman).conductivity, r.kopelman, last_digit,
                 "Kopelman");
  }
  expect_close(mixture(flat, 20, Mixing::levy).conductivity, .41317, last_digit, "Levy");
  const auto p = mixture(flat, 20, Mixing::parallel);
  expect_close(p.conductivity / p.density / p.heat_capacity, 1.30534e-7, last_digit, "alpha");
}

TEST(Mixture, LiesBetweenSeriesAndParallelForAnyFood) {
  numeric::Random random(5);
  for (int i = 0; i < 2000; ++i) {
    const auto food =
        make_composition({random.uniform(.3, .8), random.uniform(.1, .3), random.uniform(0, .5),
                          random.uniform(0, .05), 0, random.uniform(0, .02)});
    ASSERT_TRUE(food);
    const double t = random.uniform(0, 120);
    const double low = mixture(*food, t, Mixing::series).conductivity;
    const double high = mixture(*food, t, Mixing::parallel).conductivity;
    for (const auto rule : {Mixing::maxwell_eucken, Mixing::kopelman, Mixing::levy}) {
      const double k = mixture(*food, t, rule).conductivity;
      EXPECT_GE(k, low - 1e-12);
      EXPECT_LE(k, high + 1e-12);
    }
  }
}

// Lean brisket flat, USDA SR26 NDB 23596, normalized; initial freezing point -1 degC.
TEST(Frozen, IceFractionsAndPropertiesOfLeanBrisket) {
  const auto lean = make_composition({73.76, 21.57, 3.84, 0, 0, 1.01}).value();
  constexpr double digit = 6e-6;
  EXPECT_NEAR(ice_fraction_chen(lean, {-1}, -10), .58513, digit);
  EXPECT_NEAR(ice_fraction_tchigeov(lean, {-1}, -10), .62106, digit);
  EXPECT_NEAR(ice_fraction_chen(lean, {-1}, -5), .52012, digit);
  EXPECT_NEAR(ice_fraction_tchigeov(lean, {-1}, -5), .56362, digit);
  const auto p = frozen_mixture(lean, {-1}, -10);
  // The water is supercooled there; its curves are continued below zero.
  EXPECT_NEAR(p.density, 1004.47, .01);
  EXPECT_NEAR(p.conductivity, 1.5874, 1e-4);
  EXPECT_EQ(ice_fraction_chen(lean, {-1}, -0.5), 0);
}

TEST(MakeComposition, RefusesWhatCannotBe) {
  EXPECT_FALSE(make_composition({.water = -1, .protein = 20}));
  EXPECT_FALSE(make_composition({}));
  EXPECT_FALSE(make_composition({.fat = 100}));
  EXPECT_FALSE(make_composition({.water = std::numeric_limits<double>::quiet_NaN()}));
  EXPECT_FALSE(make_composition({.water = std::numeric_limits<double>::max(),
                                 .protein = std::numeric_limits<double>::max()}));
  const auto made = make_composition({.water = 61.08, .protein = 18.42, .fat = 19.06, .ash = .88});
  ASSERT_TRUE(made);
  EXPECT_NEAR(made->water + made->protein + made->fat + made->ash, 1, 1e-15);
}

// Source: van der Sman (2007) as used by Feyissa et al. (2013), read second-hand.
TEST(WaterHeld, FollowsThePublishedCurve) {
  for (const auto& [t, c] : {std::pair{20., .7450},
                             {50., .7382},
                             {60., .6768},
                             {65., .5855},
                             {70., .4862},
                             {75., .4301},
                             {80., .4092},
                             {90., .4008}}) {
    EXPECT_NEAR(water_held(t), c, 5.1e-5);
  }
}

TEST(Material, TemperatureUndoesHeatThroughThawingAndWaterLoss) {
  const auto m = make_material(flat);
  numeric::Random random(7);
  for (int i = 0; i < 5000; ++i) {
    const double t = random.uniform(-40, 140);
    const double w = t < 0 ? m.water : m.water * random.uniform(0.5, 1);
    const double h = m.heat(t, w);
    EXPECT_NEAR(m.temperature(h, w, random.uniform(-40, 140)), t, 1e-8);
    // Slope of heat is the heat capacity, of the k integral the conductivity.
    if (std::abs(t + 1) < .1) continue;
    EXPECT_NEAR((m.heat(t + 1e-4, w) - m.heat(t - 1e-4, w)) / 2e-4, m.heat_capacity(t, w),
                1e-5 * m.heat_capacity(t, w));
    if (t > -1) {
      EXPECT_NEAR((m.k_integral(t + 1e-3) - m.k_integral(t - 1e-3)) / 2e-3, m.conductivity_at(t),
                  1e-6);
    }
  }
}

TEST(Material, CurvesStayWithinAThousandthOfTheMixture) {
  const auto m = make_material(flat);
  for (double t = 0; t <= 120; t += 5) {
    const auto p = mixture(flat, t);
    EXPECT_NEAR(m.conductivity_at(t), p.conductivity, 1e-3 * p.conductivity) << t;
    EXPECT_NEAR(m.heat_capacity(t, m.water), p.heat_capacity, 1e-3 * p.heat_capacity) << t;
  }
}

}  // namespace
}  // namespace pitwright::food
