#include "design/spots.h"

#include <algorithm>
#include <cmath>
#include <set>

#include <gtest/gtest.h>

namespace pitwright::design {
namespace {

Pit barrel() {
  Pit pit;
  pit.name = "Barrel";
  pit.width_m = 0.9;
  pit.depth_m = 0.45;
  pit.height_m = 0.5;
  pit.grates = {{"lower", 0.15}, {"upper", 0.35}};
  return pit;
}

Pit one_grate() {
  auto pit = barrel();
  pit.grates.resize(1);
  return pit;
}

std::set<std::string> names(const SpotPlan& plan) {
  std::set<std::string> all;
  for (const auto& spot : plan.spots) all.insert(spot.name);
  return all;
}

TEST(Spots, FourProbesTakeTheCorners) {
  const auto plan = choose_spots(one_grate(), {}, 4);
  EXPECT_EQ(names(plan),
            (std::set<std::string>{"left front", "left back", "right front", "right back"}));
  for (const auto& spot : plan.spots) {
    EXPECT_GT(*spot.x_m, 0.05);
    EXPECT_LT(*spot.x_m, 0.85);
  }
}

TEST(Spots, SixProbesTakeCornersCenterAndTheSensor) {
  const auto plan = choose_spots(one_grate(), {}, 6);
  EXPECT_EQ(names(plan),
            (std::set<std::string>{"left front", "left back", "right front", "right back", "center",
                                   "beside the pit's own sensor"}));
  EXPECT_EQ(plan.spots[static_cast<std::size_t>(plan.anchor)].name, "center");
}

TEST(Spots, EveryGrateInUseIsMeasured) {
  for (int probes = 4; probes <= 12; ++probes) {
    std::set<std::string> grates;
    const auto plan = choose_spots(barrel(), {}, probes);
    EXPECT_EQ(std::ssize(plan.spots), probes);
    EXPECT_EQ(std::ssize(names(plan)), probes);
    for (const auto& spot : plan.spots) grates.insert(spot.grate);
    EXPECT_TRUE(grates.contains("lower") && grates.contains("upper")) << probes;
    const auto factors = tilt_factors(plan, plan.rounds.front());
    for (const auto& factor : factors) EXPECT_TRUE(factor.has_value()) << probes;
  }
}

TEST(Spots, ManyProbesFillTheGrateWithoutSharingAPlace) {
  const auto plan = choose_spots(one_grate(), {}, 16);
  for (std::size_t i = 0; i < plan.spots.size(); ++i)
    for (std::size_t j = i + 1; j < plan.spots.size(); ++j) {
      const auto& a = plan.spots[i];
      const auto& b = plan.spots[j];
      if (!a.x_share || !b.x_share) continue;
      EXPECT_GT(std::hypot(*a.x_share - *b.x_share, *a.y_share - *b.y_share), 0.1);
    }
}

TEST(Spots, FewProbesMoveAroundAnAnchor) {
  for (const auto [probes, spots, rounds] : {std::array{2, 4, 3}, std::array{3, 5, 2}}) {
    const auto plan = choose_spots(one_grate(), {}, probes);
    EXPECT_EQ(std::ssize(plan.spots), spots);
    ASSERT_EQ(std::ssize(plan.rounds), rounds);
    std::set<int> seen;
    for (const auto& round : plan.rounds) {
      EXPECT_EQ(std::ssize(round), probes);
      EXPECT_EQ(round.front(), plan.anchor);
      seen.insert(round.begin(), round.end());
    }
    EXPECT_EQ(std::ssize(seen), spots);
  }
}

TEST(Spots, WithoutDimensionsAreNamedButNotPlaced) {
  Pit pit;
  const auto plan = choose_spots(pit, {}, 6);
  EXPECT_EQ(plan.spots.size(), 6u);
  for (const auto& spot : plan.spots) EXPECT_FALSE(spot.x_m || spot.y_m || spot.z_m);
  EXPECT_EQ(plan.missing,
            (std::vector{Missing::width, Missing::depth, Missing::grates, Missing::sensor_place}));
}

TEST(Spots, ALearnedSensorPlaceIsUsed) {
  Habits habits;
  habits.sensor_x_m = 0.2;
  habits.sensor_y_m = 0.3;
  habits.sensor_z_m = 0.36;
  const auto plan = choose_spots(barrel(), habits, 6);
  const auto& beside = plan.spots.back();
  EXPECT_TRUE(beside.beside_sensor);
  EXPECT_DOUBLE_EQ(*beside.x_m, 0.2);
  EXPECT_DOUBLE_EQ(*beside.y_m, 0.3);
  EXPECT_EQ(beside.grate, "upper");
}

// The variance of a least-squares slope over its extent, by the textbook: extent / sqrt(Sxx).
TEST(Tilts, FactorIsThatOfALeastSquaresSlope) {
  SpotPlan plan;
  for (const double x : {0.1, 0.1, 0.5, 0.9, 0.9}) {
    PlannedSpot spot;
    spot.x_share = x;
    spot.y_share = 0.5;
    plan.spots.push_back(spot);
  }
  const auto factors = tilt_factors(plan, {0, 1, 2, 3, 4});
  EXPECT_NEAR(*factors[0], 0.8 / std::sqrt(4 * 0.16), 1e-12);
  EXPECT_FALSE(factors[1]);
  EXPECT_FALSE(factors[2]);
}

}  // namespace
}  // namespace pitwright::design
