// Outside check: SUNDIALS CVODE (BDF, variable order and step), which shares nothing with our
// scheme.
#ifdef PITWRIGHT_SUNDIALS

#include <algorithm>

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include "food/cases_test.h"
#include "food/piece.h"

namespace pitwright::food {
namespace {

struct Case {
  Heating* heating;
  std::vector<Outside> around;
};

int cvode_rate(realtype, N_Vector y, N_Vector dy, void* data) {
  auto& one = *static_cast<Case*>(data);
  const auto n = static_cast<std::size_t>(one.heating->size());
  one.heating->rate(one.around, {N_VGetArrayPointer(y), n}, {N_VGetArrayPointer(dy), n});
  return 0;
}

// A tapered, drying, juice-losing piece with another air on every side, four hours.
TEST(Cook, AgreesWithCvode) {
  const auto piece = make_piece({.cut = "brisket", .mass_kg = 3, .cells = {4, 3, 4}}).value();
  const auto mesh = brick_mesh(piece.brick);
  auto pit = steady(115, 12, .9, .012);
  pit.air[1].air_c = 135, pit.air[4].radiant_c = 150, pit.air[5].h_w_m2k = 20;
  const double seconds = 4 * 3600;
  const Surface surface;
  const auto ours = cooked(mesh, piece.material, surface, {{pit}},
                           {.start_c = 4, .duration_s = seconds, .step_s = 5, .sample_s = seconds});

  Heating heating(mesh, piece.material, surface);
  Case one{&heating, {}};
  for (int s = 0; s < sides; ++s) one.around.push_back(outside(pit, s, 0, standard_pressure_pa));
  const auto start = heating.start(4);
  const auto size = static_cast<sunindextype>(heating.size());
  SUNContext context{};
  ASSERT_EQ(SUNContext_Create(nullptr, &context), 0);
  N_Vector y = N_VNew_Serial(size, context), tolerance = N_VNew_Serial(size, context);
  std::ranges::copy(start, N_VGetArrayPointer(y));
  for (sunindextype i = 0; i < size; ++i) {  // joules of cells and books; kilograms
    const bool joules = i < heating.cells() || i >= size - 5;
    N_VGetArrayPointer(tolerance)[i] = joules ? 1e-4 : 1e-9;
  }
  void* solver = CVodeCreate(CV_BDF, context);
  ASSERT_EQ(CVodeInit(solver, cvode_rate, 0.0, y), CV_SUCCESS);
  ASSERT_EQ(CVodeSVtolerances(solver, 1e-9, tolerance), CV_SUCCESS);
  ASSERT_EQ(CVodeSetUserData(solver, &one), CV_SUCCESS);
  ASSERT_EQ(CVodeSetMaxNumSteps(solver, 1000000), CV_SUCCESS);
  SUNMatrix jacobian = SUNDenseMatrix(size, size, context);
  SUNLinearSolver linear = SUNLinSol_Dense(y, jacobian, context);
  ASSERT_EQ(CVodeSetLinearSolver(solver, linear, jacobian), CV_SUCCESS);
  realtype reached = 0;
  ASSERT_EQ(CVode(solver, seconds, y, &reached, CV_NORMAL), CV_SUCCESS);

  std::vector<double> t(mesh.volume_m3.size());
  heating.temperatures({N_VGetArrayPointer(y), static_cast<std::size_t>(size)}, t);
  double worst = 0;
  for (std::size_t i = 0; i < t.size(); ++i) {
    worst = std::max(worst, std::abs(t[i] - ours.final_t_c[i]));
  }
  EXPECT_LT(worst, 2e-3);  // our step of 5 s; a quarter of it at half the step
  EXPECT_NEAR(
      heating.ledger({N_VGetArrayPointer(y), static_cast<std::size_t>(size)}, Heating::evaporated),
      ours.evaporated_kg, 1e-4 * ours.evaporated_kg);
  RecordProperty("worst_k", std::to_string(worst));
  SUNLinSolFree(linear);
  SUNMatDestroy(jacobian);
  CVodeFree(&solver);
  N_VDestroy(y);
  N_VDestroy(tolerance);
  SUNContext_Free(&context);
}

}  // namespace
}  // namespace pitwright::food

#endif
