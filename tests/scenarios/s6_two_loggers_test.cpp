// S6: two loggers with clocks, zones and units of their own, on disk and read back.

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "burns/open_burn.h"
#include "call/call.h"
#include "rehearsal/burn_files.h"
#include "scenarios/days.h"

namespace pitwright::scenarios {
namespace {

using call::Word;
using testing::HasSubstr;
using testing::IsEmpty;

class TwoLoggers : public testing::Test {
 protected:
  void TearDown() override { std::filesystem::remove_all(folder_); }

  /// One day's directory, with these lines added to the second logger's [[log]].
  Result<burns::OpenBurn> opened(const rehearse::RehearsedBurn& made, const std::string& lines,
                                 bool told_unit = true) const {
    EXPECT_TRUE(rehearsal::write_burn(folder_, made));
    auto toml = rehearsal::burn_toml(made, {});
    const std::string unit = "unit = \"C\"\n";
    const auto at = toml.find(unit);
    EXPECT_NE(at, std::string::npos);
    toml.replace(at, unit.size(), (told_unit ? unit : "") + lines);
    std::ofstream(folder_ / "burn.toml") << toml;
    return burns::open_burn(folder_);
  }

 private:
  std::filesystem::path folder_ = std::filesystem::temp_directory_path() /
                                  ("pitwright_two_loggers_" + std::to_string(::getpid()));
};

rehearse::RehearsedBurn day_of(int seed) {
  auto made = rehearse::rehearse(scenario("S6"), static_cast<std::uint64_t>(seed), {true});
  EXPECT_TRUE(made);
  return std::move(*made);
}

/// By how much the second logger's first sample misses its true moment, the burn's true zero [s].
double miss_s(const burns::OpenBurn& opened) {
  const auto twin = std::ranges::find_if(
      opened.burn.probes, [](const Probe& probe) { return probe.channel.ends_with("twin"); });
  const std::chrono::duration<double> at =
      opened.burn.clock.zero.value() - rehearsal::WriteOptions{}.zero;
  return at.count() + twin->readings.seconds.front();
}

TEST_F(TwoLoggers, SayingNothingIsRefusedWithTheWholeHoursToWrite) {
  const auto opened_burn = opened(day_of(1), "");
  ASSERT_FALSE(opened_burn);
  EXPECT_THAT(opened_burn.error().what, HasSubstr("offset = \"-6 h\""));
  EXPECT_THAT(opened_burn.error().what, HasSubstr("time zone"));
}

const std::string lisbon = "timezone = \"Europe/Lisbon\"\n";

TEST_F(TwoLoggers, TheTwinsTellTheOffsetAndTheCallIsRight) {
  std::vector<Day> days;
  int met = 0;
  for (int seed = 1; seed <= day_count; ++seed) {
    auto made = day_of(seed);
    auto opened_burn = opened(made, lisbon + "match = \"twin ~ box.csv:lower back\"\n");
    ASSERT_TRUE(opened_burn) << opened_burn.error().what;
    met += std::abs(miss_s(*opened_burn)) <= 20.0 ? 1 : 0;  // 440 +- 20 s were taken off
    EXPECT_LE(opened_burn->burn.clock_uncertainty_s, 30.0);
    made.burn = std::move(opened_burn->burn);
    auto report = call::make_call(made.burn, {.as_known_at_s = {}, .needs_stints = false});
    ASSERT_TRUE(report) << report.error().what;
    days.push_back({seed, std::move(made), std::move(*report)});
  }
  EXPECT_GE(met, days_that_must_agree);
  EXPECT_THAT(wrong_words(days), IsEmpty());
  EXPECT_GE(days_near(days, "level", "A", "B", Word::too_close), days_that_must_agree);
}

TEST_F(TwoLoggers, ALidClapIsACommonMark) {
  const auto made = day_of(1);
  // The clap at 13:05 in Chicago; the stick showed 7 min 24 s more by then, in Lisbon's zone.
  const auto opened_burn = opened(made, lisbon +
                                            "mark = 2026-05-02T19:12:24\n"
                                            "[[log]]\nfile = \"box.csv\"\n"
                                            "mark = 2026-05-02T13:05:00\n");
  ASSERT_TRUE(opened_burn) << opened_burn.error().what;
  EXPECT_NEAR(miss_s(*opened_burn), 0.0, 20.0);
}

TEST_F(TwoLoggers, ATwinInTheWrongUnitIsRefusedWithTheUnitToWrite) {
  const auto opened_burn = opened(day_of(1), lisbon + "offset = \"-7 min 20 s\"\n", false);
  ASSERT_FALSE(opened_burn);
  EXPECT_THAT(opened_burn.error().what, HasSubstr("stick.csv"));
  EXPECT_THAT(opened_burn.error().what, HasSubstr("unit = \"C\""));
}

}  // namespace
}  // namespace pitwright::scenarios
