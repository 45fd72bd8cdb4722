#include "documents/burn_document.h"

#include <fstream>
#include <ostream>

#include <gtest/gtest.h>

#include "documents/pit_document.h"

namespace pitwright::documents {
namespace {

constexpr auto smallest = R"(
logs = ["grate.csv"]
[[probe]]
channel = "A1"
[[stint]]
setting = "A"
)";

std::string mistake_of(const std::string& text) {
  const auto document = parse_burn(text, "burn.toml");
  return document ? "" : document.error().what;
}

std::string with_head(const std::string& head) {
  return head + smallest;
}

TEST(BurnDocument, NeedsOnlyLogsOneProbeAndOneStint) {
  const auto document = parse_burn(smallest, "burn.toml");
  ASSERT_TRUE(document) << document.error().what;
  EXPECT_EQ(document->logs.at(0).file, "grate.csv");
  EXPECT_EQ(document->probes.at(0).role, Role::air);
  EXPECT_FALSE(document->unit);
  EXPECT_NE(mistake_of("[[probe]]\nchannel='A1'\n[[stint]]\nsetting='A'\n").find("needs 'logs'"),
            std::string::npos);
  EXPECT_NE(mistake_of("logs='a.csv'\n[[stint]]\nsetting='A'\n").find("needs 'probe'"),
            std::string::npos);
  EXPECT_NE(mistake_of("logs='a.csv'\n[[probe]]\nchannel='A'\n").find("needs 'stint'"),
            std::string::npos);
}

TEST(BurnDocument, ReadsEveryKeyOfALog) {
  const auto document = parse_burn(with_head("timezone = 'America/Chicago'\n") + R"(
[[log]]
file = "grate.csv"
unit = "C"
timezone = "UTC"
offset = "+7 min 20 s"
offset_uncertainty = "5 s"
date = "month-first"
decimal = ","
delimiter = "tab"
time = ["Day", "Clock"]
zero = 2026-05-02T12:30:00
)",
                                   "burn.toml");
  ASSERT_TRUE(document) << document.error().what;
  const auto& log = document->logs.at(0);
  EXPECT_EQ(log.hints.unit, "C");
  EXPECT_EQ(log.hints.timezone, "UTC");
  EXPECT_EQ(log.hints.date, logs::DateOrder::month_first);
  EXPECT_EQ(log.hints.decimal, ',');
  EXPECT_EQ(log.hints.delimiter, '\t');
  EXPECT_EQ(log.hints.time_columns, (std::vector<std::string>{"Day", "Clock"}));
  EXPECT_EQ(log.hints.zero, Instant(std::chrono::milliseconds(1777725000'000)));  // 12:30Z
  EXPECT_EQ(log.clock.offset, Seconds(440.0));
  EXPECT_EQ(log.clock.offset_uncertainty, Seconds(5.0));
}

TEST(BurnDocument, GivesALogTheBurnsZoneUnlessItHasItsOwn) {
  const auto document = parse_burn(with_head("timezone = 'America/Chicago'\n"), "burn.toml");
  EXPECT_EQ(document->logs.at(0).hints.timezone, "America/Chicago");
}

TEST(BurnDocument, ReadsProbesStintsEventsAndPieces) {
  const auto document = parse_burn(R"(
title = "Rear baffle"
unit = "F"
matters = "10 F"
logs = "grate.csv"
mark = 2026-05-02T13:05:00
[pit]
width = "36 in"
set_point = 275
[[pit.grate]]
name = "lower"
height = "6 in"
[[probe]]
channel = "A1"
spot = "left front"
grate = "lower"
x = "6 in"
y = "10 cm"
correction = "-1.5 F"
uncertainty = 1
checked = 2026-04-30
from = "0:35"
to = 2026-05-02T14:05:00-05:00
[[stint]]
setting = { baffle = "2 in", stack = "half" }
from = 2026-05-02T13:05:00
[[event]]
at = "40 min"
what = "lid"
channel = "A1"
[[piece]]
name = "shoulder 1"
weight = "8.4 lb"
intact = true
)",
                                   "burn.toml");
  ASSERT_TRUE(document) << document.error().what;
  EXPECT_DOUBLE_EQ(document->pit.value_or(Pit{}).set_point.value_or(degF(0)).fahrenheit(), 275.0);
  const auto none = TemperatureDelta::from_kelvins(0);
  const auto& probe = document->probes.at(0);
  EXPECT_DOUBLE_EQ(probe.x_m.value_or(-1.0), 0.1524);
  EXPECT_DOUBLE_EQ(probe.correction.value_or(none).fahrenheit_degrees(), -1.5);
  EXPECT_DOUBLE_EQ(probe.uncertainty.value_or(none).fahrenheit_degrees(), 1.0);
  EXPECT_EQ(std::get<Seconds>(probe.from.value_or(WrittenTime{}).of).count(), 2100.0);
  EXPECT_EQ(std::get<Instant>(probe.to.value_or(WrittenTime{}).of).time_since_epoch().count(),
            1777748700'000);
  EXPECT_EQ(document->stints.at(0).setting, "baffle 2 in, stack half");
  EXPECT_EQ(document->stints.at(0).adjustments.at("stack"), "half");
  EXPECT_EQ(document->events.at(0).kind, EventKind::lid);
  EXPECT_NEAR(document->pieces.at(0).piece.mass_kg.value_or(0.0), 3.810, 0.001);
}

struct Mistake {
  const char* name;
  const char* text;
  const char* said;
};

std::ostream& operator<<(std::ostream& out, const Mistake& mistake) {
  return out << mistake.name;
}

class BurnMistakes : public testing::TestWithParam<Mistake> {};

TEST_P(BurnMistakes, AreAnsweredWithPlaceExpectationAndNearestName) {
  const auto& [name, text, said] = GetParam();
  EXPECT_EQ(mistake_of(text), said) << text;
}

INSTANTIATE_TEST_SUITE_P(
    Each, BurnMistakes,
    testing::Values(
        Mistake{
            "unknown_keys",
            "logs='a.csv'\n[[probe]]\nsport = 'left'\nchanel = 'A'\n[[stint]]\nsetting='A'",
            "burn.toml:3:1: unknown key 'sport' in [[probe]]; did you mean 'spot'?; unknown key "
            "'chanel' in [[probe]]; did you mean 'channel'? (line 4)"},
        Mistake{"unknown_top_key",
                "log_files='a.csv'\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'",
                "burn.toml:1:1: unknown key 'log_files'"},
        Mistake{"channel_is_a_number",
                "logs='a.csv'\n[[probe]]\nchannel = 5\n[[stint]]\nsetting='A'",
                "burn.toml:3:11: 'channel' expects a text in quotes, not a whole number"},
        Mistake{"no_channel", "logs='a.csv'\n[[probe]]\nspot='x'\n[[stint]]\nsetting='A'",
                "burn.toml:2:1: [[probe]] needs 'channel', such as channel = \"A1\""},
        Mistake{"unknown_role",
                "logs='a.csv'\n[[probe]]\nchannel='A'\nrole='dail'\n[[stint]]\nsetting='A'",
                "burn.toml:4:6: 'role' expects one of \"air\", \"dial\", \"food\", \"outside\", "
                "\"wind\", \"drive\", \"set\", not \"dail\"; did you mean \"dial\"?"},
        Mistake{"length_with_words",
                "logs='a.csv'\n[[probe]]\nchannel='A'\nx='6 inch long'\n[[stint]]\nsetting='A'",
                "burn.toml:4:3: 'x': '6 inch long' is not a length such as \"36 in\" or \"90 cm\""},
        Mistake{"length_without_unit",
                "logs='a.csv'\n[[probe]]\nchannel='A'\nx=6\n[[stint]]\nsetting='A'",
                "burn.toml:4:3: 'x' expects a length in quotes with its unit, such as \"6 in\" or "
                "\"15 cm\", not a whole number"},
        Mistake{"moment_in_words",
                "logs='a.csv'\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'\nfrom='noon'",
                "burn.toml:6:6: 'from' expects a date and time such as 2026-05-02T13:05:00 without "
                "quotes, or an offset from the first sample such as \"0:35\" or \"35 min\", not "
                "\"noon\""},
        Mistake{"moment_without_date",
                "logs='a.csv'\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'\nfrom=13:05:00",
                "burn.toml:6:6: 'from' expects a date and time such as 2026-05-02T13:05:00 without "
                "quotes, or an offset from the first sample such as \"0:35\" or \"35 min\", not a "
                "time of day"},
        Mistake{
            "unknown_unit",
            "unit='R'\nlogs='a.csv'\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'",
            "burn.toml:1:6: 'unit' expects one of \"F\", \"C\", not \"R\"; did you mean \"F\"?"},
        Mistake{"unknown_zone",
                "timezone='America/Chicgo'\nlogs='a.csv'\n[[probe]]\nchannel='A'\n"
                "[[stint]]\nsetting='A'",
                "burn.toml:1:10: unknown time zone 'America/Chicgo'; did you mean "
                "'America/Chicago'?"},
        Mistake{"log_not_listed",
                "logs='a.csv'\n[[log]]\nfile='b.csv'\n[[probe]]\nchannel='A'\n"
                "[[stint]]\nsetting='A'",
                "burn.toml:2:1: [[log]] tells of 'b.csv', which 'logs' does not list; did you mean "
                "'a.csv'?"},
        Mistake{"two_clock_keys",
                "[[log]]\nfile='b.csv'\noffset='1 h'\nmatch='A ~ B'\n[[probe]]\nchannel='A'\n"
                "[[stint]]\nsetting='A'",
                "burn.toml:3:8: give one of 'offset', 'mark' and 'match'; each sets the clock by "
                "itself"},
        Mistake{
            "match_without_other",
            "[[log]]\nfile='b.csv'\nmatch='A'\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'",
            "burn.toml:3:7: 'match' expects a channel of this log, '~', and a channel of another "
            "log, such as \"A2 ~ grate.csv:A1\""},
        Mistake{
            "food_without_piece",
            "logs='a.csv'\n[[probe]]\nchannel='A'\nrole='food'\n[[stint]]\nsetting='A'",
            "burn.toml:2:1: [[probe]] needs 'piece', such as piece = \"shoulder 1\", the name of "
            "its [[piece]]"},
        Mistake{"missing_pit_file",
                "logs='a.csv'\npit='nowhere.toml'\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'",
                "burn.toml:2:5: 'pit' names a file that is not there: nowhere.toml"},
        Mistake{"matters_without_unit",
                "logs='a.csv'\nmatters=10\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'",
                "burn.toml:2:9: 'matters': '10' needs a temperature unit: F, C or K"},
        Mistake{"unknown_key_of_grate",
                "logs='a.csv'\n[pit]\n[[pit.grate]]\nhieght='6 in'\n[[probe]]\nchannel='A'\n"
                "[[stint]]\nsetting='A'",
                "burn.toml:4:1: unknown key 'hieght' in [[pit.grate]]; did you mean 'height'?"},
        Mistake{"hour_that_never_was",
                "logs='a.csv'\n[[log]]\nfile='a.csv'\nzero=2026-03-08T02:30:00\n"
                "timezone='America/Chicago'\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'",
                "burn.toml:4:6: 'zero': no clock in America/Chicago ever showed "
                "2026-03-08T02:30:00: summer time skips it; write it with its offset, such as "
                "2026-03-08T02:30:00-05:00"},
        Mistake{"no_logs", "logs=[]\n[[probe]]\nchannel='A'\n[[stint]]\nsetting='A'",
                "burn.toml:1:6: 'logs' is an empty list"},
        Mistake{"probe_is_no_table", "logs='a.csv'\nprobe='A'\n[[stint]]\nsetting='A'",
                "burn.toml:2:7: 'probe' expects tables, each under its own line [[probe]]"}));

TEST(PitDocument, ReadsGratesAndAdjustmentsFromItsOwnFile) {
  const auto path = std::filesystem::path(testing::TempDir()) / "pit_document_test.toml";
  std::ofstream(path) << R"(
name = "Backyard barrel"
width = "36 in"
unit = "F"
set_point = 275
[[grate]]
name = "lower"
height = "6 in"
[[adjustment]]
name = "baffle"
range = ["0 in", "9 in"]
[[adjustment]]
name = "stack"
positions = ["shut", "half", "open"]
)";
  const auto pit = read_pit(path);
  ASSERT_TRUE(pit) << pit.error().what;
  EXPECT_DOUBLE_EQ(pit->width_m.value_or(0.0), 0.9144);
  EXPECT_DOUBLE_EQ(pit->grates.at(0).height_m.value_or(0.0), 0.1524);
  EXPECT_TRUE(pit->adjustments.at(0).is_span);
  EXPECT_EQ(pit->adjustments.at(1).positions.size(), 3U);
  std::ofstream(path) << "width = \"36 in\"\n[[grate]]\nname='a'\n[[grate]]\nname='a'\n";
  EXPECT_NE(read_pit(path).error().what.find("two tables [[grate]] are named 'a'"),
            std::string::npos);
  EXPECT_EQ(read_pit(path / "none").error().kind, ErrorKind::not_found);
}

}  // namespace
}  // namespace pitwright::documents
