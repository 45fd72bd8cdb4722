// Outside check: the whole model written anew with SciPy (data/reference/food_brick/make.py), other
// variables, other integrator.
#include <fstream>
#include <sstream>

#include "food/cases_test.h"
#include "food/piece.h"

namespace pitwright::food {
namespace {

TEST(Cook, AgreesWithTheModelWrittenAnewInSciPy) {
  const auto material = make_material(make_composition(find_cut("pork loin")->per_100g).value());
  const auto mesh = brick_mesh(
      {.length_m = .20, .width_m = .10, .thick_m = .07, .thin_m = .07, .cells = {6, 5, 6}});
  auto pit = steady(110, 10, .9, .012);
  pit.air[4].air_c = 95, pit.air[4].radiant_c = 150;
  pit.air[5].air_c = 120, pit.air[5].h_w_m2k = 16;
  const auto run = cooked(mesh, material, {}, {{pit}},
                          {.start_c = 5, .duration_s = 8 * 3600, .step_s = 10, .sample_s = 1800});
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/reference/food_brick/expected.csv");
  std::string line;
  ASSERT_TRUE(std::getline(file, line));
  int rows = 0;
  while (std::getline(file, line)) {
    std::istringstream cells(line);
    double hours = 0, core = 0, surface = 0, lost = 0;
    char comma = 0;
    cells >> hours >> comma >> core >> comma >> surface >> comma >> lost;
    const auto at = static_cast<std::size_t>(hours * 2);
    ASSERT_NEAR(run.time_s.at(at), hours * 3600, 1e-6);
    EXPECT_NEAR(run.core_c[at], core, 2e-3) << hours;
    EXPECT_NEAR(run.surface_c[at], surface, 2e-3) << hours;
    EXPECT_NEAR(run.lost_kg[at] / run.mass_kg, lost, 2e-5) << hours;
    ++rows;
  }
  EXPECT_EQ(rows, 7);
}

}  // namespace
}  // namespace pitwright::food
