#include "picture/labels.h"

#include <algorithm>
#include <random>

#include <gtest/gtest.h>

namespace pitwright::picture {
namespace {

constexpr Box map = {0, 0, 300, 200};
constexpr double radius = 3.5;

void expect_apart(const std::vector<Label>& labels, const std::vector<std::optional<Box>>& places) {
  for (std::size_t i = 0; i < labels.size(); ++i) {
    if (!places[i]) continue;
    EXPECT_TRUE(places[i]->x >= map.x && places[i]->right() <= map.right() &&
                places[i]->y >= map.y && places[i]->bottom() <= map.bottom());
    for (std::size_t k = i + 1; k < labels.size(); ++k) {
      EXPECT_FALSE(places[k] && overlap(*places[i], *places[k])) << i << " and " << k;
    }
    for (const auto& label : labels) {
      EXPECT_FALSE(overlap(
          *places[i], {label.point.x - radius, label.point.y - radius, 2 * radius, 2 * radius}));
    }
  }
}

TEST(PlaceLabels, StandAboveTheirPointWhereThereIsRoom) {
  const auto places = place_labels({{{150, 100}, 40, 18}}, map, radius);
  ASSERT_TRUE(places[0]);
  EXPECT_NEAR(places[0]->x + 20, 150, 1e-9);
  EXPECT_LT(places[0]->bottom(), 100 - radius);
  EXPECT_FALSE(needs_leader(*places[0], {150, 100}, radius));
}

TEST(PlaceLabels, PartTheOnesThatCoincide) {
  const std::vector<Label> labels(8, {{150, 100}, 40, 18});
  const auto places = place_labels(labels, map, radius);
  for (const auto& place : places) EXPECT_TRUE(place);
  expect_apart(labels, places);
}

TEST(PlaceLabels, StayOnTheMapAtItsCorners) {
  const std::vector<Label> labels = {{{2, 2}, 40, 18}, {{298, 198}, 40, 18}, {{2, 198}, 40, 18}};
  const auto places = place_labels(labels, map, radius);
  for (const auto& place : places) EXPECT_TRUE(place);
  expect_apart(labels, places);
}

TEST(PlaceLabels, GiveUpRatherThanCover) {
  const std::vector<Label> labels(200, {{150, 100}, 40, 18});
  const auto places = place_labels(labels, map, radius);
  EXPECT_TRUE(std::ranges::any_of(places, [](const auto& place) { return !place; }));
  expect_apart(labels, places);
}

TEST(PlaceLabels, NeverCoverInRandomCrowds) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> x(0, 300), y(0, 200);
  for (int round = 0; round < 50; ++round) {
    std::vector<Label> labels;
    for (int k = 0; k < 20; ++k) labels.push_back({{x(random), y(random)}, 36, 18});
    expect_apart(labels, place_labels(labels, map, radius));
  }
}

}  // namespace
}  // namespace pitwright::picture
