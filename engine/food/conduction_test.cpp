#include <algorithm>
#include <cmath>

#include "food/cases_test.h"
#include "food/exact.h"
#include "food/legendre.h"

namespace pitwright::food {
namespace {

/// The meat of the conduction cases: alpha 1.2016e-7.
const Material meat = plain_material(.45, 1070, 3500);

/// A slab of half-thickness L between insulated sides.
Mesh slab(double half_m, int cells) {
  return brick_mesh({.length_m = 1,
                     .width_m = 1,
                     .thick_m = 2 * half_m,
                     .thin_m = 2 * half_m,
                     .cells = {1, 1, cells}});
}
Schedule slab_air(double air_c, double h) {
  return {{only(steady(air_c, h), {Side::bottom, Side::top})}};
}

// Against the full series (exact_test.cpp), bodies one-dimensional: 1e-3 of the difference.
TEST(Conduction, OfSlabCylinderAndSphereFollowsTheSeries) {
  const double L = .05, alpha = .45 / 1070 / 3500;
  for (const double biot : {.5, 2., 10.}) {
    const double h = biot * .45 / L;
    for (const double fourier : {.05, .1, .2, .5, 1.}) {
      const double t = fourier * L * L / alpha;
      const RunOptions options{.start_c = 0, .duration_s = t, .step_s = t / 100, .sample_s = t};
      const auto check = [&](Body body, const Mesh& mesh, const Stage& stage) {
        const auto run = cooked(mesh, meat, dry_surface(), {{stage}}, options);
        EXPECT_NEAR(1 - run.core_c.back() / 100, exact_theta(body, biot, fourier, 0), 1e-3);
        EXPECT_NEAR(1 - run.surface_c.back() / 100, exact_theta(body, biot, fourier, 1), 1e-3);
      };
      const auto all = steady(100, h);
      check(Body::slab, slab(L, 40), only(all, {Side::bottom, Side::top}));
      check(Body::sphere, sphere_mesh(L, 40), all);
      check(Body::cylinder, cylinder_mesh(L, 1, 40, 2), only(all, {Side::left}));
    }
  }
}

// Product of three slabs; source of the formula: Carslaw & Jaeger. Times and temperatures worked
// out apart from this code: brick of half-sides 30 x 60 x 100 mm, h 20, 4 degC into 107.2 degC.
TEST(Conduction, OfABrickFollowsTheProductOfSlabs) {
  const auto mesh = brick_mesh(
      {.length_m = .2, .width_m = .12, .thick_m = .06, .thin_m = .06, .cells = {22, 22, 34}});
  const auto run = cooked(mesh, meat, dry_surface(), {{steady(107.2, 20)}},
                          {.start_c = 4, .duration_s = 14400, .step_s = 200, .sample_s = 200});
  constexpr double thousandth = 1e-3 * 103.2;
  EXPECT_NEAR(core_at(run, 1800), 13.412, thousandth);
  EXPECT_NEAR(core_at(run, 3600), 32.985, thousandth);
  EXPECT_NEAR(core_at(run, 7200), 65.193, thousandth);
  EXPECT_NEAR(core_at(run, 10800), 84.688, thousandth);
  EXPECT_NEAR(core_at(run, 14400), 95.409, thousandth);
  EXPECT_NEAR(run.time_to(60), 6500.0, 6.5);
  EXPECT_NEAR(run.time_to(93.3), 13491.4, 13.5);
}

TEST(Conduction, OfAShortCylinderFollowsTheProduct) {
  const auto run =
      cooked(cylinder_mesh(.05, .25, 30, 40), meat, dry_surface(), {{steady(107.2, 20)}},
             {.start_c = 4, .duration_s = 18000, .step_s = 60, .sample_s = 60});
  EXPECT_NEAR(run.time_to(60), 8288.7, 8.3);
  EXPECT_NEAR(run.time_to(71.1), 10292.2, 10.3);
  EXPECT_NEAR(run.time_to(93.3), 17223.7, 17.2);
}

double brick_error(int cells) {
  const auto mesh = brick_mesh({.length_m = .2,
                                .width_m = .12,
                                .thick_m = .06,
                                .thin_m = .06,
                                .cells = {cells, cells, cells}});
  const double t = 3600;
  const auto run = cooked(mesh, meat, dry_surface(), {{steady(107.2, 20)}},
                          {.start_c = 4, .duration_s = t, .step_s = 10, .sample_s = t});
  const double alpha = .45 / 1070 / 3500;
  // At the centers of the cells, over the whole piece, so that no place's luck decides.
  double sum = 0;
  for (int k = 0; k < cells; ++k) {
    for (int j = 0; j < cells; ++j) {
      for (int i = 0; i < cells; ++i) {
        double theta = 1;
        const int at[] = {i, j, k};
        const double half[] = {.1, .06, .03};
        for (int a = 0; a < 3; ++a) {
          const double L = half[a], xi = std::abs((at[a] + .5) / cells * 2 - 1);
          theta *= exact_theta(Body::slab, 20 * L / .45, alpha * t / L / L, xi);
        }
        const double exact = 107.2 + theta * (4 - 107.2);
        const double got = run.final_t_c[static_cast<std::size_t>((k * cells + j) * cells + i)];
        sum += (got - exact) * (got - exact);
      }
    }
  }
  return std::sqrt(sum / cells / cells / cells);
}

TEST(Conduction, HalvingTheCellsDividesTheErrorByFour) {
  const double coarse = brick_error(8), fine = brick_error(16);
  EXPECT_NEAR(coarse / fine, 4, .4);
}

// y1' = -y1^2, y2' = y1 - 3 y2: at a fixed number of stages, a method of second order.
TEST(TimeStep, HalvingItDividesTheErrorByFour) {
  const auto after = [](int steps, int stages) {
    std::vector<double> y{1, 0};
    LegendreStep step(2);
    for (int i = 0; i < steps; ++i) {
      step.advance(
          [](std::span<const double> x, std::span<double> dx) {
            dx[0] = -x[0] * x[0];
            dx[1] = x[0] - 3 * x[1];
          },
          y, 2.0 / steps, stages);
    }
    return y;
  };
  for (const int stages : {3, 5, 9}) {
    const auto exact = after(2000, stages), coarse = after(20, stages), fine = after(40, stages);
    EXPECT_NEAR(exact[0], 1.0 / 3, 1e-6);  // y1 = 1/(1 + t)
    for (std::size_t i = 0; i < 2; ++i) {
      EXPECT_NEAR((coarse[i] - exact[i]) / (fine[i] - exact[i]), 4, .5) << stages;
    }
  }
}

TEST(TimeStep, OfTwoMinutesErrsByLessThanAHundredthOfAKelvin) {
  const auto core = [&](double step) {
    return cooked(slab(.03, 20), meat, dry_surface(), slab_air(107.2, 20),
                  {.start_c = 4, .duration_s = 3600, .step_s = step, .sample_s = 3600})
        .core_c.back();
  };
  EXPECT_NEAR(core(120), core(2), .01);
}

TEST(TimeStep, IsStableFarBeyondTheExplicitLimit) {
  // Cells of 0.3 mm: an explicit step would have to stay below 0.4 s.
  const auto run = cooked(slab(.03, 200), meat, dry_surface(), slab_air(107.2, 20),
                          {.start_c = 4, .duration_s = 7200, .step_s = 120, .sample_s = 120});
  for (std::size_t i = 1; i < run.core_c.size(); ++i) {
    EXPECT_GE(run.core_c[i], run.core_c[i - 1] - 1e-9);
  }
  EXPECT_LT(run.surface_c.back(), 107.2);
}

TEST(LegendreCount, IsTheFewestStagesThatReach) {
  EXPECT_EQ(legendre_count(.01, 30), 3);
  EXPECT_EQ(legendre_count(1, 14), 5);  // 5 stages reach 14
  EXPECT_EQ(legendre_count(1, 14.1), 7);
}

TEST(Symmetry, SwappingSidesMirrorsThePiece) {
  auto left = steady(90, 15), right = steady(90, 15);
  left.air[0].air_c = 150;
  right.air[1].air_c = 150;
  const auto mesh = brick_mesh(
      {.length_m = .2, .width_m = .1, .thick_m = .06, .thin_m = .06, .cells = {8, 5, 5}});
  const RunOptions options{.start_c = 5, .duration_s = 7200, .step_s = 60, .sample_s = 7200};
  const auto a = cooked(mesh, meat, dry_surface(), {{left}}, options);
  const auto b = cooked(mesh, meat, dry_surface(), {{right}}, options);
  for (int k = 0; k < 5; ++k) {
    for (int j = 0; j < 5; ++j) {
      for (int i = 0; i < 8; ++i) {
        EXPECT_NEAR(a.final_t_c[static_cast<std::size_t>((k * 5 + j) * 8 + i)],
                    b.final_t_c[static_cast<std::size_t>((k * 5 + j) * 8 + 7 - i)], 1e-9);
      }
    }
  }
}

}  // namespace
}  // namespace pitwright::food
