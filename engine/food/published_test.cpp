#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include <fmt/format.h>

#include "food/cases_test.h"
#include "food/piece.h"

namespace pitwright::food {
namespace {

double bisect(double low, double high, const auto& is_too_high) {
  for (int i = 0; i < 9; ++i) {
    const double middle = (low + high) / 2;
    (is_too_high(middle) ? high : low) = middle;
  }
  return (low + high) / 2;
}

// Source: Chang, Carpenter & Toledo (1998), J. Food Science 63, 262-266: 128 turkeys, oven 162.8
// degC, from 4.44 to 82.2 degC in the thigh: 155 min + 11 min/kg, unstuffed; heat transfer 19.252
// (63, 257-261), which we take as convection and radiation together. Median loss 23 %.
double turkey_minutes(double kg, double shape) {
  auto piece = make_piece({.cut = "turkey", .mass_kg = kg, .taper = 1, .cells = {6, 6, 6}}).value();
  for (auto* side :
       {&piece.brick.length_m, &piece.brick.width_m, &piece.brick.thick_m, &piece.brick.thin_m}) {
    *side *= shape;
  }
  const auto run =
      cooked(brick_mesh(piece.brick), piece.material, {}, {{steady(162.8, 19.252 - 9.5, .9, .015)}},
             {.start_c = 4.44, .duration_s = 6 * 3600, .step_s = 120});
  return run.time_to(82.2) / 60;
}

TEST(Published, TurkeyTimesFollowFromOneShapeFactor) {
  const double shape = bisect(.4, .7, [](double s) {
    const double t = turkey_minutes(5.9, s);
    return t < 0 || t > 155 + 11 * 5.9;
  });
  for (const double kg : {6.8, 8.6, 9.5, 10.4}) {
    const double wanted = 155 + 11 * kg;
    const double minutes = turkey_minutes(kg, shape);
    EXPECT_NEAR(minutes, wanted, .1 * wanted) << kg;
    RecordProperty(fmt::format("turkey_{}_kg", kg),
                   fmt::format("{:.1f} min, published {:.1f}", minutes, wanted));
  }
}

TEST(Published, HamCoolsFromFiftyToTenAsItsTimeToFiftyTells) {
  // Source: James & James, Meat Refrigeration (2002), table of hams cooled in chill rooms: 7.26 kg,
  // 178 mm across, in a bag, chill of -3/-1 degC at 0.3 m/s, from 69 degC: to 50 degC 3.8 h, to
  // 10 degC 12.7 h. The bag lets no vapor out; h is convection and radiation together.
  const auto material = make_material(make_composition(find_cut("pork loin")->per_100g).value());
  const double R = .178 / 2, length = 7.26 / material.density / std::numbers::pi / R / R;
  const auto hours_to = [&](double h, double core_c) {
    auto chill = steady(-2, h);
    chill.ends_at_core_c = core_c;
    const auto run =
        cooked(cylinder_mesh(R, length, 12, 14), material, dry_surface(), {{chill, steady(-2, h)}},
               {.start_c = 69, .duration_s = 30 * 3600, .step_s = 300, .sample_s = 3600});
    return run.stage_from_s.at(1) / 3600;
  };
  const double h = bisect(20, 4, [&](double x) { return hours_to(x, 50) > 3.8; });
  EXPECT_NEAR(hours_to(h, 50), 3.8, .01);
  EXPECT_NEAR(hours_to(h, 10), 12.7, 1.27) << "h = " << h;
  RecordProperty("h", std::to_string(h));
  RecordProperty("hours_to_10", std::to_string(hours_to(h, 10)));
}

struct Roasted {
  double minutes, rise_k, loss;
};

/// To a core temperature in a still oven, then half an hour and more at 20 degC.
Roasted roast(const char* cut, double kg, double air_c, double core_c,
              const Surface& surface = {}) {
  const auto piece = make_piece({.cut = cut, .mass_kg = kg, .cells = {7, 7, 7}}).value();
  auto oven = steady(air_c, 12, .9, .012);
  oven.ends_at_core_c = core_c;
  const auto run =
      cooked(brick_mesh(piece.brick), piece.material, surface, {{oven, steady(20, 6, .9, .0073)}},
             {.start_c = 5, .duration_s = 7 * 3600, .step_s = 120, .sample_s = 120});
  double lost = 0;
  for (std::size_t i = 0; i < run.time_s.size(); ++i) {
    if (run.time_s[i] <= run.stage_from_s.at(1) + 1) lost = run.lost_kg[i];
  }
  return {run.stage_from_s.at(1) / 60, *std::ranges::max_element(run.core_c) - core_c,
          lost / run.mass_kg};
}

// Source: B. Lowe, Experimental Cookery, table of average losses: seven kinds of roasts rise 1 to 5
// K after they are taken out; the bar for our roasts is 1 to 7 K.
TEST(Published, RoastsCarryOverByAFewKelvins) {
  for (const double kg : {2., 3.5, 5.}) {
    for (const double air : {150., 162.8, 175.}) {
      for (const double core : {60., 71.}) {
        const auto r = roast("eye of round", kg, air, core);
        EXPECT_GE(r.rise_k, 1) << kg << ' ' << air << ' ' << core;
        EXPECT_LE(r.rise_k, 7) << kg << ' ' << air << ' ' << core;
        RecordProperty(fmt::format("rise_{}_kg_{}_C_to_{}", kg, air, core),
                       fmt::format("{:.2f} K", r.rise_k));
      }
    }
  }
}

// Without evaporation the same roasts rise far more than any that were measured (1 to 5 K). How
// many times as far depends on the roast; the figures are recorded.
TEST(Published, ConductionAloneOvershootsManyTimes) {
  for (const auto& [kg, air, core] :
       {std::tuple{2., 150., 71.}, {3.5, 162.8, 60.}, {5., 162.8, 71.}}) {
    const double ours = roast("eye of round", kg, air, core).rise_k;
    const double dry = roast("eye of round", kg, air, core, dry_surface()).rise_k;
    EXPECT_GT(dry, 14) << kg;
    EXPECT_GT(dry / ours, 5) << kg;
    RecordProperty(fmt::format("dry_rise_{}_kg_{}_C_to_{}", kg, air, core),
                   fmt::format("{:.1f} K, {:.1f} times as far", dry, dry / ours));
  }
}

// Source: Lowe, the same table: medium ribs, hams, legs, loins lose 20.6 to 29.0 %.
TEST(Published, MediumRoastsLoseWhatRoastsLose) {
  for (const double kg : {3.5, 5.}) {
    const auto r = roast("eye of round", kg, 162.8, 65);
    EXPECT_GE(r.loss, .206) << kg;
    EXPECT_LE(r.loss, .290) << kg;
    RecordProperty(fmt::format("loss_{}_kg_to_65", kg), fmt::format("{:.3f}", r.loss));
  }
}

// The same band for well-done roasts is missed: water_held alone is down to 31 % of raw lean meat
// at 75 degC. What is held here is by how much; the method's page says so.
TEST(Published, WellDoneRoastsLoseUpToFourPointsTooMuch) {
  for (const auto& [cut, core] : {std::pair{"eye of round", 75.}, {"pork loin", 83.}}) {
    const auto r = roast(cut, 3.7, 162.8, core);
    EXPECT_GT(r.loss, .290) << cut << ": no longer too much; say so on the method's page";
    EXPECT_LT(r.loss, .335) << cut;
    RecordProperty(fmt::format("loss_{}_to_{}", cut, core), fmt::format("{:.3f}", r.loss));
  }
}

// A shoulder and a brisket to 93.5 degC at 110 degC lose 30-45 % (from memory, common practice),
// and stall on the way: between 62 and 75 degC the core rises at less than a third of its pace
// before.
TEST(Published, LowAndSlowStallsAndLosesAThird) {
  for (const auto& [cut, kg] : {std::pair{"brisket", 6.}, {"pork butt", 3.6}}) {
    const auto piece = make_piece({.cut = cut, .mass_kg = kg, .cells = {8, 7, 7}}).value();
    const auto run =
        cooked(brick_mesh(piece.brick), piece.material, {}, {{steady(110, 10, .9, .012)}},
               {.start_c = 5, .duration_s = 18 * 3600, .step_s = 120, .sample_s = 300});
    const double done = run.time_to(93.5);
    ASSERT_GT(done, 0) << cut;
    const auto at = static_cast<std::size_t>(done / 300);
    EXPECT_GT(run.lost_kg[at] / run.mass_kg, .30) << cut;
    EXPECT_LT(run.lost_kg[at] / run.mass_kg, .45) << cut;
    const double before = (55 - 35) / (run.time_to(55) - run.time_to(35));
    const double stalled = (72 - 64) / (run.time_to(72) - run.time_to(64));
    EXPECT_LT(stalled, before / 3) << cut;
    RecordProperty(
        fmt::format("low_and_slow_{}", cut),
        fmt::format("{:.1f} h, loss {:.3f}", done / 3600, run.lost_kg[at] / run.mass_kg));
  }
}

TEST(Wrap, FoilEndsTheStallAndPaperLiesBetween) {
  const auto piece = make_piece({.cut = "brisket", .mass_kg = 5, .cells = {7, 6, 6}}).value();
  const auto hours = [&](Wrapping wrapping) {
    auto open = steady(110, 10, .9, .012), wrapped = open;
    open.ends_at_core_c = 65;
    wrapped.wrap = wrap_of(wrapping);
    if (wrapping == Wrapping::foil) wrapped.wrap.emissivity = .9;  // only the vapor, to compare
    const auto run = cooked(brick_mesh(piece.brick), piece.material, {}, {{open, wrapped}},
                            {.start_c = 5, .duration_s = 20 * 3600, .step_s = 120});
    return run.time_to(93) / 3600;
  };
  const double none = hours(Wrapping::none), paper = hours(Wrapping::paper),
               foil = hours(Wrapping::foil);
  EXPECT_LT(foil, paper - .5);
  EXPECT_LT(paper, none - .5);
}

// Source: Bengtsson, Jakobsson & Dagerskog (1976): from frozen (-20 degC), cooking takes about half
// as long again.
TEST(Frozen, StartTakesAboutHalfAsLongAgain) {
  const auto minutes = [](double start_c) {
    const auto piece =
        make_piece({.cut = "eye of round", .mass_kg = 1.5, .cells = {7, 7, 7}}).value();
    return cooked(brick_mesh(piece.brick), piece.material, {}, {{steady(175, 20, .9, .012)}},
                  {.start_c = start_c, .duration_s = 5 * 3600, .step_s = 60})
               .time_to(65) /
           60;
  };
  const double ratio = minutes(-20) / minutes(5);
  EXPECT_GT(ratio, 1.25);
  EXPECT_LT(ratio, 1.85);
}

TEST(Books, CloseToAMillionthThroughWrapRestAndTaper) {
  const auto piece = make_piece({.cut = "brisket", .mass_kg = 5, .cells = {7, 6, 6}}).value();
  auto open = steady(115, 12, .9, .012), wrapped = open;
  open.ends_at_core_c = 66;
  wrapped.wrap = wrap_of(Wrapping::paper);
  wrapped.ends_at_core_c = 92;
  const auto run = cooked(brick_mesh(piece.brick), piece.material, {},
                          {{open, wrapped, steady(20, 6, .9, .0073)}},
                          {.start_c = 4, .duration_s = 14 * 3600, .step_s = 60});
  EXPECT_NEAR(run.heat_error, 0, 1e-6);
  EXPECT_NEAR(run.water_error, 0, 1e-6);
  EXPECT_EQ(run.stage_from_s.size(), 3u);
  EXPECT_NEAR(run.core_at_stage_c[1], 66, .02);
}

}  // namespace
}  // namespace pitwright::food
