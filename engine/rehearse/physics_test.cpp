#include "rehearse/physics.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "rehearse/bodies.h"
#include "rehearse/burning.h"
#include "rehearse/test_pit.h"

#ifdef PITWRIGHT_SUNDIALS
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#endif

namespace pitwright::rehearse {
namespace {

/// A smooth case: the box at its balance, then more feed, more wind, a lid opening, a load.
struct SmoothCase {
  PitModel model = test_box();
  Physics physics{model};
  Inputs in;
  std::vector<double> start;

  SmoothCase() {
    in.lean_k.assign(static_cast<std::size_t>(physics.places()), 3.0);
    in.outside_c = model.weather.outside_c;
    in.wind_m_s = model.weather.wind_m_s;
    start = balance(physics, in).state;
    start[load] = 5;
    in.feed_w = 1.5 * start[bed];
    in.wind_m_s += 3;
    in.gust_m_s = 3;
    in.lid = 1;
    in.load_j_k = 8000;
    in.load_w_k = 3;
    in.load_share = {0.1, 0.05};
  }

  std::vector<double> after(double seconds, int steps) const {
    auto y = start;
    Integrator integrator(physics.size());
    integrator.advance(physics, in, y, seconds, steps);
    return y;
  }
};

double worst_difference(const std::vector<double>& a, const std::vector<double>& b) {
  double worst = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (i == bed || i == flame || i == heat_in || i == heat_out) continue;  // W and J
    worst = std::max(worst, std::abs(a[i] - b[i]));
  }
  return worst;
}

TEST(Integrator, HalvingTheStepDividesTheErrorBySixteen) {
  const SmoothCase smooth;
  const auto exact = smooth.after(120, 3840);
  const double coarse = worst_difference(smooth.after(120, 30), exact);
  const double fine = worst_difference(smooth.after(120, 60), exact);
  // Fourth order: 16, and the next term of the error leaves it within a few tenths of that.
  EXPECT_NEAR(coarse / fine, 16.0, 3.0);
}

TEST(Integrator, OneStepATickErrsByLessThanATenThousandthOfAKelvin) {
  const SmoothCase smooth;
  const auto exact = smooth.after(600, 9600);
  constexpr double bound_k = 1e-4;
  EXPECT_LT(worst_difference(smooth.after(600, 300), exact), bound_k);
}

TEST(Physics, EnergyBalanceClosesThroughGustsLidAndLoad) {
  auto model = test_box();
  model.disturbance.gust_m_s = 2;
  Plan plan;
  plan.lids = {{600, 90, true}};
  Burning pit(model, nullptr);
  apply_calm(model, pit.inputs());
  pit.use(model.settings[0]);
  pit.start_soaked(0);
  Unrest unrest(model, plan, 3);
  const auto held_j = [&] {
    const auto& y = pit.state();
    const auto& b = model.body;
    return b.plate_j_k * y[plate] + b.air_j_k * y[air] + b.wall_j_k * y[wall] +
           b.deep_j_k * y[deep];
  };
  pit.inputs().load_j_k = 9000;
  pit.inputs().load_w_k = 4;
  pit.state()[load] = 5;
  const double load_before_j = 9000.0 * 5;
  const double before_j = held_j();
  for (int i = 0; i < 3600; ++i) {
    const double t_s = i * tick_s;
    unrest.apply(t_s, pit.inputs());
    pit.inputs().lid = t_s >= 600 && t_s < 690 ? 1 : 0;
    pit.tick(t_s);
  }
  const double in_j = pit.state()[heat_in], out_j = pit.state()[heat_out];
  ASSERT_GT(in_j, 1e6);
  // A linear invariant, which Runge-Kutta keeps: only rounding is left.
  EXPECT_NEAR(held_j() - before_j, in_j - out_j, 1e-9 * in_j);
  // What the load took is part of what left.
  EXPECT_GT(9000 * pit.state()[load], load_before_j + 5e5);
}

TEST(Physics, DraughtFollowsTheStackEffectEquation) {
  // Source: stack effect dP = 3463 h (1/To - 1/Ti) [Pa, m, K], the usual engineering form for
  // normal pressure, constant from memory; m = A sqrt(2 rho dP).
  auto model = test_box();
  model.body.stack_m = 1.0;
  model.body.vent_m2 = 0.01;
  model.body.wind_draught = 0;
  const Physics physics(model);
  Inputs in;
  in.outside_c = 20;
  const double pressure_pa = 3463 * (1 / 293.15 - 1 / 393.15);
  const double density = 353.0 / 393.15;  // kg/m3 at 120 degC: 101325 / 287.05 = 353
  const double expected = 0.01 * std::sqrt(2 * density * pressure_pa);
  // 1 %: the constant's last digit, and the fire's own draught of 0.02 Pa.
  EXPECT_NEAR(physics.draught_kg_s(in, 120), expected, 0.01 * expected);
}

TEST(Balance, LeavesNothingToChange) {
  for (const auto& body : {thin_steel_box(), long_steel_barrel(), ceramic_egg(), brick_room()}) {
    auto model = test_box();
    model.body = body;
    model.fire.low_w = 0;
    model.fire.high_w = 20000;
    const Physics physics(model);
    Inputs in;
    in.lean_k.assign(static_cast<std::size_t>(physics.places()), 2.0);
    in.outside_c = model.weather.outside_c;
    in.wind_m_s = model.weather.wind_m_s;
    const auto steady = balance(physics, in);
    ASSERT_TRUE(steady.converged);
    EXPECT_NEAR(steady.state[sensor], model.set_c, 1e-6);
    in.feed_w = steady.heat_w;
    std::vector<double> rate(steady.state.size());
    physics.derivative(in, steady.state, rate);
    for (std::size_t i = 0; i < rate.size(); ++i) {
      if (i == heat_in || i == heat_out || i == load) continue;
      EXPECT_NEAR(rate[i], 0.0, 1e-7) << i;
    }
    EXPECT_NEAR(rate[heat_in], rate[heat_out], 1e-6);
  }
}

TEST(Balance, ComesWhereALongRunComes) {
  auto model = test_box();
  model.fire.kind = FireKind::steady;
  model.fire.high_w = 1500;
  Burning pit(model, nullptr);
  apply_calm(model, pit.inputs());
  pit.use(model.settings[0]);
  pit.start_cold(0);
  for (int i = 0; i < 60000; ++i) pit.tick(i * tick_s);
  const auto steady = balance(pit.physics(), pit.inputs());
  ASSERT_TRUE(steady.converged);
  for (const auto part : {plate, air, wall, deep, sensor})
    EXPECT_NEAR(pit.state()[part], steady.state[part], 1e-3);
}

TEST(Physics, APlaceWithMetalComesWhereItTends) {
  // kappa and its metal slow a place down; they do not move where it comes to rest.
  const SmoothCase smooth;
  auto in = smooth.in;
  in.lid = 0;
  in.load_w_k = in.load_j_k = 0;
  in.load_share.clear();
  auto y = smooth.start;
  Integrator integrator(smooth.physics.size());
  in.feed_w = 1400;
  integrator.advance(smooth.physics, in, y, 200000, 100000);
  for (int place = 0; place < smooth.physics.places(); ++place) {
    EXPECT_NEAR(y[static_cast<std::size_t>(first_place + place)],
                smooth.physics.place_target_c(in, y, place), 1e-6);
  }
}

#ifdef PITWRIGHT_SUNDIALS
struct CvodeCase {
  const SmoothCase* smooth;
};

int cvode_rate(realtype, N_Vector y, N_Vector dy, void* data) {
  const auto& smooth = *static_cast<CvodeCase*>(data)->smooth;
  const auto size = static_cast<std::size_t>(smooth.physics.size());
  smooth.physics.derivative(smooth.in, {N_VGetArrayPointer(y), size},
                            {N_VGetArrayPointer(dy), size});
  return 0;
}

// Outside check: SUNDIALS CVODE (BDF, variable order), a method that shares nothing with ours.
TEST(Integrator, AgreesWithCvode) {
  const SmoothCase smooth;
  const auto size = smooth.physics.size();
  SUNContext context{};
  ASSERT_EQ(SUNContext_Create(nullptr, &context), 0);
  N_Vector y = N_VNew_Serial(size, context);
  std::ranges::copy(smooth.start, N_VGetArrayPointer(y));
  void* solver = CVodeCreate(CV_BDF, context);
  CvodeCase data{&smooth};
  ASSERT_EQ(CVodeInit(solver, cvode_rate, 0.0, y), CV_SUCCESS);
  ASSERT_EQ(CVodeSStolerances(solver, 1e-11, 1e-9), CV_SUCCESS);
  ASSERT_EQ(CVodeSetUserData(solver, &data), CV_SUCCESS);
  ASSERT_EQ(CVodeSetMaxNumSteps(solver, 100000), CV_SUCCESS);
  SUNMatrix jacobian = SUNDenseMatrix(size, size, context);
  SUNLinearSolver linear = SUNLinSol_Dense(y, jacobian, context);
  ASSERT_EQ(CVodeSetLinearSolver(solver, linear, jacobian), CV_SUCCESS);
  realtype reached = 0;
  ASSERT_EQ(CVode(solver, 600.0, y, &reached, CV_NORMAL), CV_SUCCESS);

  const auto ours = smooth.after(600, 1200);
  const double* theirs = N_VGetArrayPointer(y);
  const std::vector<double> other(theirs, theirs + size);
  // CVODE's own tolerance is 1e-11 of some 400 K a step; ours at half a second is below 1e-6.
  EXPECT_LT(worst_difference(ours, other), 1e-5);
  EXPECT_NEAR(ours[heat_in], other[heat_in], 1e-7 * other[heat_in]);

  SUNLinSolFree(linear);
  SUNMatDestroy(jacobian);
  CVodeFree(&solver);
  N_VDestroy(y);
  SUNContext_Free(&context);
}
#endif

}  // namespace
}  // namespace pitwright::rehearse
