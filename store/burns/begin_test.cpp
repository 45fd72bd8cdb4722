#include "burns/begin.h"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "burns/guess_role.h"
#include "burns/open_burn.h"

namespace pitwright::burns {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::Not;

/// A fresh directory that goes away with its test.
class Begin : public testing::Test {
 protected:
  Begin()
      : root_(fs::path(testing::TempDir()) /
              (std::string("begin_") +
               testing::UnitTest::GetInstance()->current_test_info()->name())) {
    fs::remove_all(root_);
    fs::create_directories(root_ / "logs");
  }
  ~Begin() override { fs::remove_all(root_); }

  fs::path write(const std::string& name, const std::string& text) const {
    std::ofstream(root_ / "logs" / name, std::ios::binary) << text;
    return root_ / "logs" / name;
  }
  std::string draft() const {
    std::ifstream in(root_ / "burn" / "burn.toml");
    return {std::istreambuf_iterator<char>(in), {}};
  }
  Result<Begun> begin(const DraftRequest& request, std::vector<fs::path> logs) const {
    return begin_burn(request, logs, root_ / "burn");
  }

  fs::path root_;
};

std::string wide_log(const std::string& header) {
  std::string text = "Time," + header + "\n";
  for (int minute = 0; minute < 240; ++minute) {
    text += fmt::format("2026-05-02T{:02}:{:02}:00", 12 + minute / 60, minute % 60);
    for (std::size_t column = 0;
         column <= static_cast<std::size_t>(std::ranges::count(header, ',')); ++column) {
      text += fmt::format(",{}", 250 + (minute * 7 + static_cast<int>(column)) % 13);
    }
    text += "\n";
  }
  return text;
}

TEST_F(Begin, WritesADraftThatOpensStraightAway) {
  const auto log =
      write("grate.csv", wide_log("Left (F),Right (F),Pit (F),Outside (F),Meat 1 (F)"));
  const auto begun = begin({.title = "Say \"when\"",
                            .unit = {},
                            .timezone = "America/Chicago",
                            .date = {},
                            .decimal = {},
                            .zero = {},
                            .stints = {"12:30 A", "13:30 B", "14:30 A"}},
                           {log});
  ASSERT_TRUE(begun) << begun.error().what;
  EXPECT_EQ(begun->to_mend, "");
  const auto opened = open_burn(root_ / "burn");
  ASSERT_TRUE(opened) << opened.error().what;
  const auto& burn = opened->burn;
  EXPECT_EQ(burn.title, "Say \"when\"");
  EXPECT_EQ(burn.scale, Scale::fahrenheit);
  ASSERT_EQ(burn.probes.size(), 5U) << draft();
  EXPECT_EQ(burn.probes[0].role, Role::air);
  EXPECT_EQ(burn.probes[0].readings.seconds.size(), 240U);
  EXPECT_DOUBLE_EQ(burn.probes[0].readings.values[0], (250.0 - 32.0) / 1.8);
  EXPECT_EQ(burn.probes[2].role, Role::dial);
  EXPECT_EQ(burn.probes[3].role, Role::outside);
  EXPECT_EQ(burn.probes[4].role, Role::food);
  EXPECT_EQ(burn.pieces.size(), 1U);
  ASSERT_EQ(burn.stints.size(), 3U);
  EXPECT_EQ(burn.stints[0].from_s, 1800.0);
  EXPECT_EQ(burn.stints[1].setting, "B");
  // 12:00 in Chicago in May is 17:00 UTC (IANA tz database).
  EXPECT_EQ(burn.clock.zero, Instant(std::chrono::milliseconds(1777741200'000)));
}

TEST_F(Begin, SuggestsOneStintWhereNoneIsTold) {
  const auto begun = begin({}, {write("grate.csv", wide_log("Left (C),Right (C)"))});
  ASSERT_TRUE(begun) << begun.error().what;
  EXPECT_THAT(draft(), HasSubstr("only a suggestion"));
  const auto opened = open_burn(root_ / "burn");
  ASSERT_TRUE(opened) << opened.error().what;
  EXPECT_EQ(opened->burn.scale, Scale::celsius);
  EXPECT_EQ(opened->burn.stints.at(0).to_s, 239 * 60.0);
}

TEST_F(Begin, NeverOverwrites) {
  const auto log = write("grate.csv", wide_log("Left (F)"));
  ASSERT_TRUE(begin({}, {log}));
  const auto before = draft();
  const auto again = begin({}, {log});
  ASSERT_FALSE(again);
  EXPECT_EQ(again.error().kind, ErrorKind::conflict);
  EXPECT_EQ(draft(), before);
  fs::remove(root_ / "burn" / "burn.toml");
  const auto beside = begin({}, {log});  // a log of that name is there already
  ASSERT_FALSE(beside);
  EXPECT_THAT(beside.error().what, HasSubstr("nothing is overwritten"));
  EXPECT_FALSE(fs::exists(root_ / "burn" / "burn.toml"));
  const auto in_place = begin({}, {root_ / "burn" / "grate.csv"});
  ASSERT_TRUE(in_place) << in_place.error().what;
  EXPECT_TRUE(in_place->copied.empty());
}

TEST_F(Begin, AsksForUnitAndDateWhereTheLogsDoNotSay) {
  const auto no_unit = begin({}, {write("a.csv", wide_log("Left,Right"))});
  ASSERT_FALSE(no_unit);
  EXPECT_THAT(no_unit.error().what, HasSubstr("--unit"));
  const auto twofold =
      write("b.csv", "Time,Left (F)\n05/02/2026 12:00,250\n05/02/2026 12:01,251\n");
  ASSERT_FALSE(begin({}, {twofold}));
  EXPECT_FALSE(fs::exists(root_ / "burn"));
  const auto told = begin({.title = {},
                           .unit = {},
                           .timezone = {},
                           .date = logs::DateOrder::month_first,
                           .decimal = {},
                           .zero = {},
                           .stints = {}},
                          {twofold});
  ASSERT_TRUE(told) << told.error().what;
  EXPECT_EQ(told->to_mend, "");
  EXPECT_THAT(draft(), HasSubstr("date = \"month-first\""));
}

TEST_F(Begin, RefusesStintsItCannotPlace) {
  const auto log = write("grate.csv", wide_log("Left (F)"));
  const auto said = [&](const std::string& stint) {
    DraftRequest request;
    request.stints = {stint};
    const auto begun = begin(request, {log});
    return begun ? "" : begun.error().what;
  };
  EXPECT_THAT(said("13:05"), HasSubstr("expects a time and a setting"));
  EXPECT_THAT(said("noon A"), HasSubstr("'noon' is not a time"));
  EXPECT_THAT(said("18:05 A"), HasSubstr("lies outside the logs, which run from 2026-05-02T12:00"));
  DraftRequest backwards;
  backwards.stints = {"13:05 A", "12:35 B"};
  EXPECT_THAT(begin(backwards, {log}).error().what, HasSubstr("not after the one before"));
}

TEST_F(Begin, NamesTheLogWhereTwoShareAChannelAndAsksForTheirClocks) {
  const auto a = write("a.csv", wide_log("Left (F)"));
  const auto b = write("b.csv", wide_log("Left (F),Right (F)"));
  const auto begun = begin({}, {a, b});
  ASSERT_TRUE(begun) << begun.error().what;
  EXPECT_EQ(begun->to_mend, "");
  EXPECT_THAT(draft(), HasSubstr("channel = \"a.csv:Left (F)\"\nspot = \"Left, a.csv\""));
  EXPECT_THAT(draft(), HasSubstr("channel = \"Right (F)\"\nspot = \"Right\""));
  EXPECT_THAT(draft(), HasSubstr("Several loggers"));
  EXPECT_TRUE(open_burn(root_ / "burn"));
}

TEST_F(Begin, LeavesOutChannelsThatAreNoUse) {
  const auto begun = begin({}, {write("a.csv",
                                      "Time,Left (F),Humidity (%),Dead (F)\n"
                                      "2026-05-02T12:00:00,250,40,\n"
                                      "2026-05-02T12:01:00,251,41,\n"
                                      "2026-05-02T12:02:00,252,41,\n")});
  ASSERT_TRUE(begun) << begun.error().what;
  EXPECT_THAT(draft(), HasSubstr("never shows a reading"));
  EXPECT_THAT(draft(), HasSubstr("no temperature, wind or fan"));
  EXPECT_EQ(open_burn(root_ / "burn")->burn.probes.size(), 1U);
}

// Readings by hand: the example of docs/guide/readings-by-hand.md, six numbers a round.
TEST_F(Begin, TakesReadingsByHandFromTheGuide) {
  std::ifstream guide(fs::path(PITWRIGHT_SOURCE_DIR) / "docs/guide/readings-by-hand.md");
  const std::string text{std::istreambuf_iterator<char>(guide), {}};
  const auto from = text.find("time, spot, reading");
  ASSERT_NE(from, text.npos);
  const auto log = write("hand.csv", text.substr(from, text.find("```", from) - from));
  DraftRequest request;
  request.unit = "F";
  request.timezone = "America/Chicago";
  request.zero = "2026-05-02T13:00:00";
  request.stints = {"13:05 A", "13:35 B"};
  const auto begun = begin(request, {log});
  ASSERT_TRUE(begun) << begun.error().what;
  EXPECT_EQ(begun->to_mend, "") << draft();
  const auto opened = open_burn(root_ / "burn");
  ASSERT_TRUE(opened) << opened.error().what << draft();
  const auto& burn = opened->burn;
  ASSERT_EQ(burn.probes.size(), 6U) << draft();
  EXPECT_EQ(burn.probes[0].spot, "left front");
  EXPECT_EQ(burn.probes[0].readings.values.size(), 4U);
  EXPECT_DOUBLE_EQ(burn.probes[0].readings.values[0], (252.0 - 32.0) / 1.8);
  EXPECT_EQ(burn.stints.at(1).setting, "B");
  // 13:05 in Chicago in May is 18:05 UTC.
  EXPECT_EQ(burn.clock.zero, Instant(std::chrono::milliseconds(1777745100'000)));
}

TEST_F(Begin, KeepsOffsetsForALogThatCountsFromItsStart) {
  std::string text = "Elapsed,Left (F)\n";
  for (int minute = 0; minute < 120; ++minute) {
    text += fmt::format("{}:{:02}:00,{}\n", minute / 60, minute % 60, 250 + minute % 5);
  }
  DraftRequest request;
  request.stints = {"0:35 A", "1:05 B"};
  const auto begun = begin(request, {write("a.csv", text)});
  ASSERT_TRUE(begun) << begun.error().what;
  EXPECT_EQ(begun->to_mend, "");
  const auto opened = open_burn(root_ / "burn");
  ASSERT_TRUE(opened) << opened.error().what;
  EXPECT_FALSE(opened->burn.clock.zero);
  EXPECT_EQ(opened->burn.stints.at(0).from_s, 2100.0);
}

TEST(OpenBurn, SaysWhereALogIsMissing) {
  const auto directory = fs::path(testing::TempDir()) / "open_burn_missing";
  fs::create_directories(directory);
  std::ofstream(directory / "burn.toml")
      << "logs = 'nowhere.csv'\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'\n";
  const auto opened = open_burn(directory);
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().kind, ErrorKind::not_found);
  EXPECT_THAT(opened.error().what, HasSubstr("burn.toml:1:8: "));
  EXPECT_THAT(opened.error().what, HasSubstr("nowhere.csv"));
  fs::remove_all(directory);
  EXPECT_EQ(open_burn(directory).error().kind, ErrorKind::not_found);
}

TEST(GuessedRole, FollowsNameAndUnit) {
  using logs::ChannelUnit;
  const auto role = [](const char* name, ChannelUnit unit = ChannelUnit::fahrenheit) {
    return guessed_role(name, unit);
  };
  EXPECT_EQ(role("A1"), Role::air);
  EXPECT_EQ(role("Pit Temp"), Role::dial);
  EXPECT_EQ(role("Set Temp"), Role::set);
  EXPECT_EQ(role("ambient"), Role::outside);
  EXPECT_EQ(role("Meat1"), Role::food);
  EXPECT_EQ(role("Fan", ChannelUnit::percent), Role::drive);
  EXPECT_EQ(role("fan", ChannelUnit::unknown), Role::drive);
  EXPECT_EQ(role("gusts", ChannelUnit::mph), Role::wind);
  EXPECT_EQ(role("humidity", ChannelUnit::percent), std::nullopt);
  EXPECT_EQ(role("battery", ChannelUnit::other), std::nullopt);
}

}  // namespace
}  // namespace pitwright::burns
