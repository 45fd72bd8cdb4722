#include "browning/toast_map.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::browning {
namespace {

/// Bread of this lightness, of the color that goes with it.
ToastSlice bread(double x_m, double y_m, double lightness) {
  const double fade = (lightness - 55.0) / 40.0;
  return {x_m, y_m,       0.09, {lightness, 10.0 - 10.0 * fade, 28.0 - 20.0 * fade * fade},
          0.5, Flaw::none};
}

/// Four columns, three rows, darker to the right.
std::vector<ToastSlice> tray() {
  std::vector<ToastSlice> all;
  for (int r = 2; r >= 0; --r)
    for (int c = 0; c < 4; ++c)
      all.push_back(bread(0.06 + 0.11 * c, 0.06 + 0.11 * r, 70.0 - 8.0 * c - r));
  return all;
}

TEST(ToastMap, LeavesOutWhatItsColorForbids) {
  auto slices = tray();
  slices[0].color.lightness = 85.0;
  slices[1].color = {20.0, 3.0, 4.0};
  slices[6].color.a = slices[6].color.b = 4.0;  // a veil of glare: pale for its lightness
  slices[7].flaw = Flaw::touching;
  const auto map = map_toast(slices, {});
  EXPECT_EQ(map.flaws[0], Flaw::raw);
  EXPECT_EQ(map.flaws[1], Flaw::burnt);
  EXPECT_EQ(map.flaws[6], Flaw::off_color);
  EXPECT_EQ(map.flaws[7], Flaw::touching);
  EXPECT_EQ(map.used.size(), 8U);
  EXPECT_FALSE(map.level_c);
}

TEST(ToastMap, AnUntoastedSliceSetsWhatRawIs) {
  auto slices = tray();
  slices[0].color.lightness = 74.0;
  EXPECT_EQ(map_toast(slices, {}).flaws[0], Flaw::none);
  EXPECT_EQ(map_toast(slices, {}, {{}, 76.0}).flaws[0], Flaw::raw);
}

TEST(ToastMap, SeatsEachProbeAtTheSliceItSatAt) {
  const auto slices = tray();
  const auto map =
      map_toast(slices, {{"near", 0.07, 0.05, 170.0, 1.0}, {"off", 0.60, 0.06, 190.0, 1.0}});
  EXPECT_EQ(map.probes[0].slice, 8);
  EXPECT_FALSE(map.probes[1].slice);
  EXPECT_EQ(map.anchors, 1);
}

TEST(ToastMap, RunsSumToZeroAndTheTiltPointsToTheDarkSide) {
  const auto slices = tray();
  const auto map = map_toast(slices, {{"a", 0.06, 0.06, 170.0, 1.0},
                                      {"b", 0.17, 0.17, 175.0, 1.0},
                                      {"c", 0.28, 0.06, 181.0, 1.0},
                                      {"d", 0.39, 0.28, 187.0, 1.0}});
  double sum = 0.0;
  for (const auto& heat : map.heats) sum += heat->run_k;
  EXPECT_NEAR(sum, 0.0, 1e-9);
  EXPECT_GT(map.left_right_k->low, 5.0);
  EXPECT_NEAR(map.left_right_k->value, 17.0, 4.0);
  EXPECT_LT(std::abs(map.front_back_k->value), 4.0);
}

TEST(ToastMap, OfNoSlicesIsEmptyAndOfOneHasNoTilt) {
  EXPECT_TRUE(map_toast({}, {{"a", 0.1, 0.1, 170.0, 1.0}}).used.empty());
  const auto one = map_toast({bread(0.1, 0.1, 60.0)}, {{"a", 0.1, 0.1, 170.0, 1.0}});
  EXPECT_FALSE(one.left_right_k);
  EXPECT_NEAR(one.level_c->value, 170.0, 0.1);
}

TEST(OwnVariances, AreWhatIsLeftBesideASharedOffsetAndStretch) {
  // Exact: of 4 on every slice's own, 100 on an offset and 0.3 on a stretch that all share, the
  // mean of what is own is 4.
  ToastMap map;
  const std::vector<double> heat{100.0, 104.0, 111.0, 113.0, 122.0};
  for (std::size_t i = 0; i < heat.size(); ++i) {
    map.used.push_back(static_cast<int>(i));
    map.heats.emplace_back(SliceHeat{heat[i], 10.0, 0.0, 0.0});
    for (std::size_t j = 0; j < heat.size(); ++j)
      map.covariance_k2.push_back(100.0 + 0.3 * (heat[i] - 110.0) * (heat[j] - 110.0) +
                                  (i == j ? 4.0 : 0.0));
  }
  double mean = 0.0;
  for (const double v : own_variances(map)) mean += v / 5.0;
  EXPECT_NEAR(mean, 4.0, 1e-9);
  map.used.resize(2);
  EXPECT_TRUE(own_variances(map).empty());
}

}  // namespace
}  // namespace pitwright::browning
