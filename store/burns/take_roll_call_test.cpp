#include "burns/take_roll_call.h"

#include <filesystem>
#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "burns/open_burn.h"

namespace pitwright::burns {
namespace {

namespace fs = std::filesystem;
using testing::Contains;
using testing::HasSubstr;
using testing::Not;

/// A burn with three channels and a roll call that knows two of them.
class TakeRollCall : public testing::Test {
 protected:
  TakeRollCall()
      : root_(fs::path(testing::TempDir()) /
              (std::string("take_") +
               testing::UnitTest::GetInstance()->current_test_info()->name())) {
    fs::remove_all(root_);
    fs::create_directories(root_);
    write("a.csv",
          "Time,A1,A2,A3,W (mph)\n2026-05-02T12:00:00,250,260,255,3\n2026-05-02T12:01:00,251,261,"
          "255,4\n2026-05-02T12:02:00,252,262,256,3\n");
    write("rollcall.toml",
          "unit = \"F\"\ndate = 2026-04-30\n[boil]\naltitude = \"0 ft\"\n"
          "[[probe]]\nname = \"A1\"\nice = [33, 33]\nboil = [215, 215]\n"
          "[[probe]]\nname = \"blue\"\nice = [32, 32]\nboil = [210, 210]\n"
          "[[probe]]\nname = \"broken\"\nice = [90, 95]\n");
  }
  ~TakeRollCall() override { fs::remove_all(root_); }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(root_ / name, std::ios::binary) << text;
  }
  Result<OpenBurn> opened(const std::string& probes, const std::string& head = "") const {
    write("burn.toml", "unit = \"F\"\nlogs = [\"a.csv\"]\nrollcall = \"rollcall.toml\"\n" + head +
                           probes + "[[stint]]\nsetting = \"A\"\n");
    return open_burn(root_);
  }

  fs::path root_;
};

TEST_F(TakeRollCall, GivesEachProbeTheCorrectionOfItsThermometer) {
  const auto open = opened(
      "[[probe]]\nchannel = \"A1\"\n[[probe]]\nchannel = \"A2\"\nthermometer = \"blue\"\n"
      "[[probe]]\nchannel = \"A3\"\n");
  ASSERT_TRUE(open) << open.error().what;
  const auto& probes = open->burn.probes;
  // A1: 1 F high in ice, 3.05 F high at boil (211.95 F); so -3.44 F at 250 F by the line.
  EXPECT_NEAR(correction_k(probes[0], 121.1) * 1.8, -3.44, 0.02);
  EXPECT_NEAR(correction_k(probes[0], 0.0) * 1.8, -1.0, 0.05);
  EXPECT_NEAR(correction_k(probes[1], 98.9) * 1.8, 1.95, 0.05);
  EXPECT_TRUE(uncertainty_k(probes[0], 121.1));
  EXPECT_FALSE(uncertainty_k(probes[2], 121.1));
  EXPECT_EQ(probes[0].line.from, "rollcall.toml");
  EXPECT_TRUE(probes[0].checked);
  EXPECT_GT(probes[0].line.shared_k, 0.3);
  EXPECT_THAT(open->assumed,
              Contains("corrections taken from 'rollcall.toml' (checked 2026-04-30): A1, A2"));
  EXPECT_THAT(open->assumed, Contains("not in 'rollcall.toml', so nobody checked them: A3"));
}

TEST_F(TakeRollCall, WhatIsWrittenAtTheProbeGoesFirst) {
  const auto open = opened(
      "[[probe]]\nchannel = \"A1\"\ncorrection = \"-9 F\"\n"
      "[[probe]]\nchannel = \"A2\"\nthermometer = \"blue\"\n");
  ASSERT_TRUE(open) << open.error().what;
  EXPECT_NEAR(correction_k(open->burn.probes[0], 121.1) * 1.8, -9.0, 1e-9);
  EXPECT_THAT(open->assumed, Contains(HasSubstr("of their own in the burn")));
}

TEST_F(TakeRollCall, AMovedProbeTakesItsCorrectionAlong) {
  const auto open = opened(
      "[[probe]]\nchannel = \"A1\"\nspot = \"left\"\n"
      "[[probe]]\nchannel = \"A1\"\nspot = \"right\"\nfrom = \"1 min\"\n");
  ASSERT_TRUE(open) << open.error().what;
  for (const auto& probe : open->burn.probes)
    EXPECT_NEAR(correction_k(probe, 121.1) * 1.8, -3.44, 0.02) << probe.spot;
}

TEST_F(TakeRollCall, ABinnedThermometerCountsAsUnchecked) {
  const auto open = opened(
      "[[probe]]\nchannel = \"A1\"\n[[probe]]\nchannel = \"A2\"\nthermometer = \"broken\"\n");
  ASSERT_TRUE(open) << open.error().what;
  EXPECT_EQ(correction_k(open->burn.probes[1], 121.1), 0.0);
  EXPECT_FALSE(uncertainty_k(open->burn.probes[1], 121.1));
  EXPECT_THAT(open->assumed, Contains(HasSubstr("says to bin")));
}

TEST_F(TakeRollCall, SaysWhichNameIsWrong) {
  const auto wrong = opened("[[probe]]\nchannel = \"A2\"\nthermometer = \"bleu\"\n");
  ASSERT_FALSE(wrong);
  EXPECT_THAT(wrong.error().what, HasSubstr("burn.toml:6:15: 'rollcall.toml' has no thermometer "
                                            "'bleu'; did you mean 'blue'?"));
  const auto none = opened("[[probe]]\nchannel = \"A3\"\n");
  ASSERT_FALSE(none);
  EXPECT_THAT(none.error().what, HasSubstr("burn.toml:3:12: no [[probe]] of this burn is in"));
  fs::remove(root_ / "rollcall.toml");
  const auto missing = opened("[[probe]]\nchannel = \"A1\"\n");
  ASSERT_FALSE(missing);
  EXPECT_THAT(missing.error().what,
              HasSubstr("burn.toml:3:12: 'rollcall' names a file that is not"));
  write("rollcall.toml", "unit = \"F\"\n[[probe]]\nname = \"A1\"\nice = \"warm\"\n");
  const auto bad = opened("[[probe]]\nchannel = \"A1\"\n");
  ASSERT_FALSE(bad);
  EXPECT_THAT(bad.error().what, HasSubstr("rollcall.toml:4:7: 'warm' is not a temperature"));
}

TEST_F(TakeRollCall, PointsOfACorrectionMayStandInTheBurnItself) {
  const auto open = opened(
      "[[probe]]\nchannel = \"A1\"\ncorrection = [{ at = \"212 F\", add = \"-3 F\", uncertainty = "
      "\"1 F\" }, { at = \"32 F\", add = \"-1 F\", uncertainty = \"0.5 F\" }]\n");
  ASSERT_TRUE(open) << open.error().what;
  EXPECT_NEAR(correction_k(open->burn.probes[0], 50.0) * 1.8, -2.0, 1e-9);
  EXPECT_NEAR(*uncertainty_k(open->burn.probes[0], 100.0) * 1.8, 1.0, 1e-9);
  const auto twice = opened(
      "[[probe]]\nchannel = \"A1\"\ncorrection = [{ at = \"32 F\", add = 1 }, { at = 32, add = 2 "
      "}]\n");
  ASSERT_FALSE(twice);
  EXPECT_THAT(twice.error().what, HasSubstr("two points of 'correction' are at the same reading"));
}

}  // namespace
}  // namespace pitwright::burns
