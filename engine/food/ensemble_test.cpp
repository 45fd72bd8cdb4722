#include "food/ensemble.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "food/cases_test.h"
#include "food/piece.h"
#include "numeric/random.h"

namespace pitwright::food {
namespace {

/// A tapered brisket through pit, paper, rest; every side has its own air, the pit's drifts.
Schedule long_cook() {
  auto pit = steady(110, 10, .9, .012), wrapped = pit, rest = steady(60, 5, .9, .02);
  pit.air[0].air_c = Track({0, 7200, 14400}, {95, 118, 112});
  pit.air[4].radiant_c = 135;
  pit.air[5].h_w_m2k = 14;
  pit.ends_after_s = 5 * 3600;
  wrapped.wrap = wrap_of(Wrapping::paper);
  wrapped.ends_after_s = 9 * 3600;
  rest.wrap = wrap_of(Wrapping::paper);
  return {{pit, wrapped, rest}};
}

std::vector<Member> spread_out(int count) {
  numeric::Random random(3);
  std::vector<Member> members(static_cast<std::size_t>(count));
  for (auto& m : members) {
    m.thickness = random.uniform(.8, 1.25);
    m.start_c = random.uniform(2, 12);
    m.transfer = random.uniform(.7, 1.4);
    m.humidity = random.uniform(.5, 2);
    m.wetness = random.uniform(.5, 1);
    m.crust = random.uniform(.3, 3);
    m.air_shift_k = random.uniform(-10, 10);
    m.side_shift_k[5] = random.uniform(-8, 8);
  }
  if (count > 2)
    members[2].composition = make_composition({73.76, 21.57, 3.84, 0, 0, 1.01}).value();
  return members;
}

/// The same member in double precision, by Heating.
Run in_double(const Piece& piece, const Schedule& schedule, const Member& m, double hours) {
  auto brick = piece.brick;
  brick.thick_m *= m.thickness, brick.thin_m *= m.thickness;
  auto own = schedule;
  for (auto& stage : own.stages) {
    for (std::size_t s = 0; s < sides; ++s) {
      auto& air = stage.air[s];
      const auto change = [](Track& track, double factor, double shift) {
        for (auto& v : track.values) v = v * factor + shift;
      };
      const double shift = m.air_shift_k + m.side_shift_k[s];
      change(air.air_c, 1, shift);
      if (air.radiant_c) change(*air.radiant_c, 1, shift);
      change(air.humidity, m.humidity, 0);
      change(air.h_w_m2k, m.transfer, 0);
    }
  }
  Surface surface;
  surface.wetness = m.wetness;
  surface.crust_diffusivity_m2_s *= m.crust;
  const auto material = m.composition ? make_material(*m.composition) : piece.material;
  auto mesh = brick_mesh(brick);
  mesh.nearest_face = brick_mesh(piece.brick).nearest_face;  // the kernel's members share theirs
  return cooked(mesh, material, surface, own,
                {.start_c = m.start_c, .duration_s = hours * 3600, .step_s = 30, .sample_s = 1800});
}

/// Worst difference of core [K] and of loss [share] against double precision.
std::pair<double, double> worst(const Piece& piece, const std::vector<Member>& members,
                                double hours, Instructions instructions) {
  const auto schedule = long_cook();
  const auto run =
      cook_ensemble(piece.brick, piece.material, {}, schedule, members,
                    {.duration_s = hours * 3600, .sample_s = 1800, .instructions = instructions});
  EXPECT_TRUE(run);
  double core = 0, lost = 0;
  for (std::size_t m = 0; m < members.size(); ++m) {
    const auto slow = in_double(piece, schedule, members[m], hours);
    for (std::size_t s = 0; s < run->time_s.size(); ++s) {
      const auto same = std::ranges::find_if(
          slow.time_s, [&](double t) { return std::abs(t - run->time_s[s]) < 1e-3; });
      const auto at = static_cast<std::size_t>(same - slow.time_s.begin());
      core = std::max(core, std::abs(run->core_at(static_cast<int>(s), static_cast<int>(m)) -
                                     slow.core_c.at(at)));
      lost = std::max(lost, std::abs(static_cast<double>(run->lost[s * members.size() + m]) -
                                     slow.lost_kg.at(at) / slow.mass_kg));
    }
  }
  return {core, lost};
}

TEST(Ensemble, StaysWithinATenthOfAKelvinOfDoublePrecision) {
  const auto piece = make_piece({.cut = "brisket", .mass_kg = 5, .cells = {6, 6, 6}}).value();
  for (const auto set : {Instructions::baseline, Instructions::avx2, Instructions::avx512}) {
    if (set > best_instructions()) continue;
    const auto [core, lost] = worst(piece, spread_out(3), 12, set);
    EXPECT_LT(core, .1) << static_cast<int>(set);
    EXPECT_LT(lost, .002) << static_cast<int>(set);
    RecordProperty("core", std::to_string(core));
  }
}

TEST(Ensemble, DoesNotDependOnTheOtherMembersOrTheirNumber) {
  const auto piece = make_piece({.cut = "pork loin", .mass_kg = 2, .cells = {5, 4, 5}}).value();
  const auto members = spread_out(37);
  const EnsembleOptions options{.duration_s = 3 * 3600};
  const auto all =
      cook_ensemble(piece.brick, piece.material, {}, long_cook(), members, options).value();
  for (const std::size_t i : {0u, 2u, 15u, 16u, 36u}) {
    const auto alone = cook_ensemble(piece.brick, piece.material, {}, long_cook(),
                                     std::span(members).subspan(i, 1), options)
                           .value();
    const int last = static_cast<int>(all.time_s.size()) - 1;
    // A block takes as many inner stages as its fastest member needs: another step, not another
    // answer.
    EXPECT_NEAR(all.core_at(last, static_cast<int>(i)), alone.core_at(last, 0), .02) << i;
  }
}

TEST(Ensemble, FindsFinishesAndStages) {
  const auto piece = make_piece({.cut = "pork loin", .mass_kg = 2, .cells = {5, 4, 5}}).value();
  auto pit = steady(120, 12, .9, .012);
  pit.ends_at_core_c = 65;
  const std::vector<Member> members(5);
  const auto run =
      cook_ensemble(piece.brick, piece.material, {}, {{pit, steady(20, 6, .9, .0073)}}, members,
                    {.duration_s = 8 * 3600, .step_s = 60, .wanted = {{60, 0}, {60, 600}, {99, 0}}})
          .value();
  const auto slow = in_double(piece, {{pit, steady(20, 6, .9, .0073)}}, Member{}, 8);
  EXPECT_NEAR(run.stage_from_s[5], slow.stage_from_s.at(1), 61);
  EXPECT_NEAR(run.finish_s[5] - run.finish_s[0], 600, 1);
  EXPECT_TRUE(std::isnan(run.finish_s[10]));
  EXPECT_GT(run.stage_from_s[5], run.finish_s[0]);
}

// Anything that is let in comes out as a temperature between the coldest and the hottest around.
TEST(Ensemble, StaysFiniteAtTheEdgesOfWhatItTakes) {
  const auto piece = make_piece({.cut = "pork belly", .mass_kg = 2, .cells = {4, 4, 5}}).value();
  numeric::Random random(19);
  const auto edge = [&](double low, double high) {
    return random.below(3) == 0 ? low : random.below(2) == 0 ? high : random.uniform(low, high);
  };
  for (int round = 0; round < 12; ++round) {
    std::vector<Member> members(16);
    for (auto& m : members) {
      m = {.thickness = edge(.2, 5),
           .start_c = edge(-.5, 90),
           .transfer = edge(0, 10),
           .humidity = edge(0, 10),
           .wetness = edge(0, 1),
           .crust = edge(.05, 100),
           .air_shift_k = edge(-100, 100)};
    }
    auto pit = steady(edge(-30, 250), edge(0, 50), .9, edge(0, .3));
    pit.wrap = wrap_of(random.below(2) ? Wrapping::none : Wrapping::foil);
    const auto run =
        cook_ensemble(piece.brick, piece.material, {}, {{pit}}, members, {.duration_s = 3 * 3600})
            .value();
    for (const float t : run.core_c) EXPECT_TRUE(t > -135 && t < 400) << round << ' ' << t;
    for (const float x : run.lost) EXPECT_TRUE(std::isfinite(x)) << round;
  }
}

TEST(Ensemble, RefusesWhatCannotBe) {
  const auto piece = make_piece({.cut = "pork loin", .mass_kg = 2}).value();
  const auto what = [&](const Member& m) {
    const std::vector<Member> members{m};
    const auto run = cook_ensemble(piece.brick, piece.material, {}, long_cook(), members, {});
    return run ? std::string() : run.error().what;
  };
  EXPECT_NE(what({.thickness = 0}), "");
  EXPECT_NE(what({.start_c = -20}), "");
  EXPECT_NE(what({.wetness = 2}), "");
  EXPECT_NE(what({.transfer = std::numeric_limits<double>::quiet_NaN()}), "");
  EXPECT_FALSE(cook_ensemble(piece.brick, piece.material, {}, long_cook(), {}, {}));
  EXPECT_FALSE(cook_ensemble(piece.brick, piece.material, {}, {}, std::vector<Member>(1), {}));
}

}  // namespace
}  // namespace pitwright::food
