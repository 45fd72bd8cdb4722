#include <filesystem>

#include <gtest/gtest.h>

#include "trial.h"

// The made-up photographs that ship (tools/make_toast.py), read and held against their truth. The
// bars are those of docs/methods/toast.md.
namespace pitwright {
namespace {

using browning::Flaw;

constexpr double least_ranks = 0.8, most_error_f = 6.0;

toast::Toast opened(const std::string& name) {
  const std::filesystem::path root = PITWRIGHT_SOURCE_DIR;
  auto document = toast::read_toast(root / (name + ".toml"));
  EXPECT_TRUE(document) << document.error().what;
  auto open = toast::open_toast(*document);
  EXPECT_TRUE(open) << open.error().what;
  return *std::move(open);
}

bench::ToastTrial held_against_truth(const toast::Toast& toast, const std::string& name) {
  const std::filesystem::path root = PITWRIGHT_SOURCE_DIR;
  return bench::judged(toast, bench::read_truth(root / (name + ".truth.json")));
}

class Shipped : public testing::TestWithParam<const char*> {};

TEST_P(Shipped, KeepsTheBars) {
  if (!photo::has_reader()) GTEST_SKIP() << "this build has no photo reader";
  const auto toast = opened(GetParam());
  const auto trial = held_against_truth(toast, GetParam());
  EXPECT_EQ(trial.found, trial.laid);
  EXPECT_LT(trial.place_mm, 12.0);
  EXPECT_GE(trial.spearman, least_ranks);
  EXPECT_LE(trial.rms_f, most_error_f);
  EXPECT_EQ(trial.glare_left_out, trial.glare);
  EXPECT_EQ(trial.left_out_wrongly, 0);
  EXPECT_LT(trial.lightness_rms, 1.5);
  EXPECT_GE(trial.covered, trial.counted * 9 / 10);
}

INSTANTIATE_TEST_SUITE_P(Toast, Shipped,
                         testing::Values("examples/kitchen-box/toast", "data/toast/left-lamp",
                                         "data/toast/black-and-raw"));

TEST(Toast, LeavesOutAShiningSliceForItsGlare) {
  if (!photo::has_reader()) GTEST_SKIP() << "this build has no photo reader";
  const auto trial =
      held_against_truth(opened("examples/kitchen-box/toast"), "examples/kitchen-box/toast");
  EXPECT_EQ(trial.glare, 1);
  EXPECT_EQ(trial.glare_named, 1);
}

TEST(Toast, LeavesOutBlackAndRawSlicesWithTheirReason) {
  if (!photo::has_reader()) GTEST_SKIP() << "this build has no photo reader";
  const auto toast = opened("data/toast/black-and-raw");
  // Slices count from the back, the script's from the front: its 14 is 9, its 9 is 16.
  EXPECT_EQ(toast.map.flaws[8], Flaw::burnt);
  EXPECT_EQ(toast.map.flaws[15], Flaw::raw);
}

TEST(Toast, SaysThatTheEdgeGetsRadiantHeat) {
  if (!photo::has_reader()) GTEST_SKIP() << "this build has no photo reader";
  const auto toast = opened("examples/kitchen-box/toast");
  for (std::size_t j = 0; j < toast.map.probes.size(); ++j) {
    ASSERT_TRUE(toast.map.probes[j].apart);
    EXPECT_EQ(toast.map.probes[j].apart->disagrees, toast.document.probes[j].spot == "front 6");
  }
}

// Over the photographs together: of a single one with many good thermometers either may be luckier.
// Of forty, bench/toast tells (docs/methods/toast.md).
TEST(Toast, JoinedWithThermometersIsNearerTheTrueAirThanEitherAlone) {
  if (!photo::has_reader()) GTEST_SKIP() << "this build has no photo reader";
  const std::filesystem::path root = PITWRIGHT_SOURCE_DIR;
  double alone2 = 0.0, toast2 = 0.0, joint2 = 0.0;
  int covered = 0, counted = 0;
  for (const std::string name :
       {"examples/kitchen-box/toast", "data/toast/left-lamp", "data/toast/black-and-raw"}) {
    const auto trial =
        bench::joined(opened(name), bench::read_truth(root / (name + ".truth.json")));
    ASSERT_TRUE(trial) << trial.error().what;
    alone2 += trial->alone_f * trial->alone_f;
    toast2 += trial->toast_f * trial->toast_f;
    joint2 += trial->joint_f * trial->joint_f;
    covered += trial->covered;
    counted += trial->counted;
  }
  EXPECT_LT(joint2, alone2);
  EXPECT_LT(joint2, toast2);
  EXPECT_GE(covered, counted * 9 / 10);
}

TEST(Toast, IsJoinedWithTheBurnItNames) {
  if (!photo::has_reader()) GTEST_SKIP() << "this build has no photo reader";
  const auto toast = opened("examples/kitchen-box/toast");
  ASSERT_TRUE(toast.joined) << toast.not_joined;
  EXPECT_EQ(toast.joined->map.setting, "off");
  EXPECT_EQ(toast.joined->map.grate, "rack");
  EXPECT_LT(toast.joined->summary.sd_k, toast.joined->summary.sd_alone_k);
  EXPECT_FALSE(opened("data/toast/left-lamp").joined);
}

TEST(Spearman, IsOneForOrderKeptAndLessForATie) {
  EXPECT_NEAR(bench::spearman({1, 2, 3, 4}, {10, 20, 30, 400}), 1.0, 1e-12);
  EXPECT_NEAR(bench::spearman({1, 2, 3, 4}, {4, 3, 2, 1}), -1.0, 1e-12);
  EXPECT_NEAR(bench::spearman({1, 2, 2, 4}, {1, 2, 3, 4}), 0.948683, 1e-6);  // worked by hand
}

}  // namespace
}  // namespace pitwright
