#include <algorithm>
#include <cmath>
#include <numbers>

#include "food/cases_test.h"
#include "food/piece.h"

namespace pitwright::food {
namespace {

double bisect(double low, double high, const auto& is_too_high) {
  for (int i = 0; i < 14; ++i) {
    const double middle = (low + high) / 2;
    (is_too_high(middle) ? high : low) = middle;
  }
  return (low + high) / 2;
}

// Source: Chang, Carpenter & Toledo (1998), J. Food Science 63, 262-266: 128 turkeys, oven 162.8
// degC, from 4.44 to 82.2 degC in the thigh: 155 min + 11 min/kg, unstuffed; heat transfer 19.252
// (63, 257-261), which we take as convection and radiation together. Median loss 23 %.
double turkey_minutes(double kg, double shape) {
  auto piece = make_piece({.cut = "turkey", .mass_kg = kg, .taper = 1, .cells = {8, 8, 10}}).value();
  for (auto* side : {&piece.brick.length_m, &piece.brick.width_m, &piece.brick.thick_m,
                     &piece.brick.thin_m}) {
    *side *= shape;
  }
  const auto run = cooked(brick_mesh(piece.brick), piece.material, {},
                          {{steady(162.8, 19.252 - 9.5, .9, .015)}},
                          {.start_c = 4.44, .duration_s = 9 * 3600, .step_s = 60});
  std::printf("turkey %g %g: %g min, loss %.3f at end\n", kg, shape, run.time_to(82.2) / 60,
              1 - run.yield());
  return run.time_to(82.2) / 60;
}

TEST(Published, TurkeyTimesFollowFromOneShapeFactor) {
  const double shape =
      bisect(.3, 1.2, [](double s) { const double t = turkey_minutes(5.9, s); return t < 0 || t > 155 + 11 * 5.9; });
  for (const double kg : {6.8, 8.6, 9.5, 10.4}) {
    const double wanted = 155 + 11 * kg;
    EXPECT_NEAR(turkey_minutes(kg, shape), wanted, .1 * wanted) << kg;
  }
}

TEST(Published, CarryOverOfRoasts) {
  for (const double kg : {2., 3.5, 5.}) {
    for (const double air : {150., 162.8, 175.}) {
      const auto piece = make_piece({.cut = "eye of round", .mass_kg = kg}).value();
      auto pit = steady(air, 10, .9, .012);
      pit.ends_at_core_c = 62;
      const auto run = cooked(brick_mesh(piece.brick), piece.material, {},
                              {{pit, steady(20, 6, .9, .0073)}},
                              {.start_c = 5, .duration_s = 8 * 3600, .step_s = 60});
      std::printf("%g kg %g C: pull %.0f min, peak %.2f, lost %.3f evap %.3f\n", kg, air,
                  run.stage_from_s.at(1) / 60, *std::ranges::max_element(run.core_c),
                  1 - run.yield(), run.evaporated_kg / run.mass_kg);
    }
  }
}

TEST(Published, LowAndSlow) {
  for (const char* cut : {"brisket", "pork butt", "pork shoulder"}) {
    const auto piece = make_piece({.cut = cut, .mass_kg = cut[0] == 'b' ? 6. : 3.6}).value();
    const auto run = cooked(brick_mesh(piece.brick), piece.material, {},
                            {{steady(110, 10, .9, .012)}},
                            {.start_c = 5, .duration_s = 24 * 3600, .step_s = 60, .sample_s=1800});
    std::printf("%s: %g x %g x %g\n", cut, piece.brick.length_m, piece.brick.width_m, piece.brick.thick_m);
    for (std::size_t i = 0; i < run.time_s.size(); i += 2) {
      std::printf("%.1f h core %.1f surf %.1f lost %.3f\n", run.time_s[i] / 3600, run.core_c[i],
                  run.surface_c[i], run.lost_kg[i] / run.mass_kg);
    }
  }
}

}  // namespace
}  // namespace pitwright::food
