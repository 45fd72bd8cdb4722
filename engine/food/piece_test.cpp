#include "food/piece.h"

#include <cmath>
#include <fstream>
#include <limits>
#include <sstream>
#include <vector>

#include <gtest/gtest.h>

#include "food/cook_piece.h"
#include "numeric/random.h"

namespace pitwright::food {
namespace {

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"')
      quoted = !quoted;
    else if (c == ',' && !quoted)
      cells.emplace_back();
    else
      cells.back() += c;
  }
  return cells;
}

// Source: USDA SR26; see data/food/PROVENANCE.md.
TEST(Cuts, HoldTheNumbersOfTheDataFile) {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/food/usda_sr26_cuts.csv");
  std::string line;
  ASSERT_TRUE(std::getline(file, line));
  std::size_t count = 0;
  while (std::getline(file, line)) {
    const auto row = cells_of(line);
    ASSERT_EQ(row.size(), 8u);
    const auto cut = find_cut(row[0]);
    ASSERT_TRUE(cut) << row[0];
    EXPECT_EQ(cut->ndb, std::stoi(row[1]));
    EXPECT_EQ(cut->per_100g.water, std::stod(row[3]));
    EXPECT_EQ(cut->per_100g.protein, std::stod(row[4]));
    EXPECT_EQ(cut->per_100g.fat, std::stod(row[5]));
    EXPECT_EQ(cut->per_100g.ash, std::stod(row[6]));
    EXPECT_EQ(cut->per_100g.carbohydrate, std::stod(row[7]));
    ++count;
  }
  EXPECT_EQ(count, cuts().size());
}

// Properties at 5 degC of the same rows, conductivity parallel; worked out apart from this code.
TEST(Cuts, HaveThePropertiesOfTheirComposition) {
  struct Row {
    const char* cut;
    double density, cp, k, alpha;
  };
  for (const auto& r : {Row{"brisket", 1034.4, 3329.6, .4358, 1.266},
                        Row{"pork shoulder", 1031.7, 3385.0, .4457, 1.276},
                        Row{"turkey", 1054.7, 3560.6, .4859, 1.294},
                        Row{"pork butt", 1037.0, 3502.4, .4693, 1.292}}) {
    const auto food = make_composition(find_cut(r.cut)->per_100g).value();
    const auto p = mixture(food, 5, Mixing::parallel);
    EXPECT_NEAR(p.density, r.density, .06);
    EXPECT_NEAR(p.heat_capacity, r.cp, .06);
    EXPECT_NEAR(p.conductivity, r.k, 6e-5);
    EXPECT_NEAR(p.conductivity / p.density / p.heat_capacity * 1e7, r.alpha, 6e-4);
  }
}

TEST(MakePiece, HasTheMassAskedForAndTheCutsProportions) {
  const auto piece = make_piece({.cut = "brisket", .mass_kg = 6}).value();
  EXPECT_NEAR(piece.brick.volume_m3() * piece.material.density, 6, 1e-9);
  EXPECT_NEAR(piece.brick.length_m / piece.brick.width_m, 7.0 / 4.2, 1e-12);
  EXPECT_NEAR(piece.brick.thin_m / piece.brick.thick_m, .45, 1e-12);
  EXPECT_FALSE(piece.bone_left_out);
  EXPECT_TRUE(make_piece({.cut = "spareribs", .mass_kg = 1.5})->bone_left_out);
  const auto both =
      make_piece({.cut = "pork loin", .mass_kg = 2, .sides_m = {{.25, .12, .08}}}).value();
  EXPECT_NEAR(both.brick.volume_m3() * both.material.density, 2, 1e-9);
}

TEST(MakePiece, SaysWhatIsWrong) {
  const auto what = [](const PieceAsked& asked) { return make_piece(asked).error().what; };
  EXPECT_NE(what({.cut = "unicorn", .mass_kg = 1}).find("unicorn"), std::string::npos);
  EXPECT_NE(what({.cut = "brisket"}).find("weight"), std::string::npos);
  EXPECT_NE(what({.cut = "brisket", .mass_kg = -3}).find("-3"), std::string::npos);
  EXPECT_NE(what({.cut = "brisket", .mass_kg = 1, .taper = 3}).find("taper"), std::string::npos);
  EXPECT_NE(what({.cut = "pork loin", .mass_kg = 9, .sides_m = {{.25, .12, .08}}}).find("%"),
            std::string::npos);
}

/// A number such as a person, or a broken file, may give.
double odd_number(numeric::Random& random) {
  switch (random.below(8)) {
    case 0:
      return std::numeric_limits<double>::quiet_NaN();
    case 1:
      return std::numeric_limits<double>::infinity();
    case 2:
      return -random.uniform(0, 1e3);
    case 3:
      return 0;
    case 4:
      return random.uniform(0, 1e9);
    case 5:
      return random.uniform(0, 1e-6);
    default:
      return random.uniform(0, 10);
  }
}

// Any numbers at all: an error, or a run whose every temperature is one and whose books close.
TEST(CookBody, TakesOrRefusesAnyNumbers) {
  numeric::Random random(11);
  int taken = 0;
  for (int i = 0; i < 1500; ++i) {
    const auto number = [&] { return odd_number(random); };
    const auto now_and_then = [&] { return random.below(6) == 0; };
    PieceAsked asked{.cut = "pork loin", .mass_kg = 2, .cells = {3, 3, 4}};
    if (now_and_then()) asked.mass_kg = number();
    if (now_and_then()) asked.sides_m = {{number() / 10, number() / 10, number() / 10}};
    if (now_and_then()) asked.taper = number();
    if (now_and_then()) asked.composition = Composition{number(), number(), number()};
    if (now_and_then()) asked.start_c = 4 * number();
    const auto piece = make_piece(asked);
    if (!piece) continue;
    Schedule schedule{{Stage{}}};
    if (now_and_then()) schedule.stages[0].air[2].air_c = number() * 50;
    if (now_and_then()) schedule.stages[0].air[4].h_w_m2k = number();
    if (now_and_then()) schedule.stages[0].air[1].humidity = number();
    if (now_and_then()) schedule.stages[0].wrap.vapor_resistance_s_m = number();
    Surface surface;
    if (now_and_then()) surface.wetness = number();
    if (now_and_then()) surface.crust_diffusivity_m2_s = number() * 1e-6;
    const auto run =
        cook_body(brick_mesh(piece->brick), piece->material, surface, schedule,
                  {.start_c = piece->start_c, .duration_s = 1200, .step_s = 60, .sample_s = 600});
    if (!run) {
      EXPECT_FALSE(run.error().what.empty());
      continue;
    }
    ++taken;
    for (const double t : run->core_c) EXPECT_TRUE(t > -60 && t < 900) << i << ' ' << t;
    EXPECT_NEAR(run->heat_error, 0, 1e-6) << i;
    EXPECT_NEAR(run->water_error, 0, 1e-6) << i;
  }
  EXPECT_GT(taken, 100);
}

}  // namespace
}  // namespace pitwright::food
