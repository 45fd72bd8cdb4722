#include "burns/assemble.h"

#include <cmath>
#include <ostream>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::burns {
namespace {

using testing::Contains;
using testing::HasSubstr;

constexpr std::int64_t noon_ms = 1777741200'000;  // 2026-05-02T12:00:00 in Chicago

/// Four hours at one sample a minute: A1, A2 in degF (told by the file), fan in %, wind in mph.
logs::Log four_hours() {
  logs::Log log;
  log.interval_s = 60.0;
  const std::pair<const char*, logs::ChannelUnit> columns[] = {
      {"A1", logs::ChannelUnit::fahrenheit},
      {"A2", logs::ChannelUnit::fahrenheit},
      {"fan", logs::ChannelUnit::percent},
      {"wind", logs::ChannelUnit::mph},
      {"X", logs::ChannelUnit::unknown}};
  for (const auto& [name, unit] : columns) {
    logs::LogChannel channel;
    channel.name = name;
    channel.unit = unit;
    channel.unit_from_file = unit != logs::ChannelUnit::unknown;
    std::vector<std::int64_t> ms;
    for (int i = 0; i <= 240; ++i) ms.push_back(noon_ms + i * 60'000);
    channel.values.assign(ms.size(), 212.0);
    channel.ms = std::move(ms);
    log.channels.push_back(channel);
  }
  log.channels[0].values[3] = std::nan("");
  return log;
}

Result<Assembled> assembled(const std::string& text, logs::Log log = four_hours()) {
  const auto document = documents::parse_burn(text, "burn.toml");
  if (!document) return std::unexpected(document.error());
  std::vector logs{std::move(log)};
  return assemble(*document, logs);
}

const std::string head = "timezone='America/Chicago'\nlogs='grate.csv'\n";
const std::string one_probe = "[[probe]]\nchannel='A1'\nspot='left'\n";
const std::string one_stint = "[[stint]]\nsetting='A'\n";

std::string mistake_in(const std::string& rest) {
  const auto made = assembled(head + rest);
  return made ? "" : made.error().what;
}

TEST(Assemble, FillsInWhatIsNotSaidAndSaysSo) {
  const auto made = assembled("logs='grate.csv'\n[[probe]]\nchannel='A1'\n" + one_stint);
  ASSERT_TRUE(made) << made.error().what;
  const auto& burn = made->burn;
  EXPECT_EQ(burn.scale, Scale::fahrenheit);
  EXPECT_DOUBLE_EQ(burn.matters.fahrenheit_degrees(), 10.0);
  EXPECT_EQ(burn.probes.at(0).spot, "A1");
  EXPECT_EQ(burn.stints.at(0).from_s, 0.0);
  EXPECT_EQ(burn.stints.at(0).to_s, 14400.0);
  for (const char* said :
       {"unit is F", "10 F", "called by its channel", "UTC", "of the pit", "starts at", "ends with",
        "no [[probe]] uses A2, fan, wind, X of 'grate.csv'", "title"}) {
    EXPECT_THAT(made->assumed, Contains(HasSubstr(said))) << said;
  }
}

TEST(Assemble, HoldsCelsiusSecondsKmhAndPercent) {
  const auto made = assembled(head + one_probe + one_stint +
                              "[[probe]]\nchannel='wind'\nrole='wind'\n"
                              "[[probe]]\nchannel='fan'\nrole='drive'\n");
  ASSERT_TRUE(made) << made.error().what;
  const auto& probes = made->burn.probes;
  EXPECT_DOUBLE_EQ(probes[0].readings.values.at(0), 100.0);
  EXPECT_TRUE(std::isnan(probes[0].readings.values.at(3)));
  EXPECT_DOUBLE_EQ(probes[0].readings.seconds.at(2), 120.0);
  // A mile is 1609.344 m by definition (international yard and pound agreement, 1959).
  EXPECT_DOUBLE_EQ(probes[1].readings.values.at(0), 212.0 * 1.609344);
  EXPECT_DOUBLE_EQ(probes[2].readings.values.at(0), 212.0);
}

TEST(Assemble, TakesTheBurnsUnitWhereALogIsSilent) {
  const auto made =
      assembled("unit='C'\n" + head + "[[probe]]\nchannel='X'\nspot='x'\n" + one_stint);
  ASSERT_TRUE(made) << made.error().what;
  EXPECT_DOUBLE_EQ(made->burn.probes[0].readings.values.at(0), 212.0);
  EXPECT_DOUBLE_EQ(made->burn.matters.kelvins(), 5.0);
  EXPECT_THAT(made->assumed,
              Contains(HasSubstr("'grate.csv' does not say its unit; X taken as C")));
}

TEST(Assemble, ResolvesLocalTimesOffsetsAndInstantsAlike) {
  const auto made = assembled(head + one_probe +
                              "[[stint]]\nsetting='A'\nfrom=2026-05-02T12:35:00\n"
                              "[[stint]]\nsetting='B'\nfrom='1:35'\n"
                              "[[stint]]\nsetting='A'\nfrom=2026-05-02T19:35:00Z\nto='3:35'\n"
                              "[[event]]\nwhat='lid'\nat='50 min'\nuntil='52 min'\n"
                              "[[event]]\nwhat='split'\nat='0:20'\n");
  ASSERT_TRUE(made) << made.error().what;
  const auto& stints = made->burn.stints;
  EXPECT_EQ(stints[0].from_s, 2100.0);
  EXPECT_EQ(stints[0].to_s, 5700.0);
  EXPECT_EQ(stints[2].from_s, 9300.0);
  EXPECT_EQ(stints[2].to_s, 12900.0);
  EXPECT_EQ(made->burn.events.at(0).kind, EventKind::split);
  EXPECT_EQ(made->burn.events.at(1).until_s, 3120.0);
}

TEST(Assemble, CutsAMovedProbesReadings) {
  const auto made = assembled(head + one_stint +
                              "[[probe]]\nchannel='A1'\nspot='left'\n"
                              "[[probe]]\nchannel='A1'\nspot='right'\nfrom='2:00'\nto='3:00'\n");
  ASSERT_TRUE(made) << made.error().what;
  EXPECT_EQ(made->burn.probes[0].readings.seconds.size(), 120U);
  EXPECT_EQ(made->burn.probes[1].readings.seconds.front(), 7200.0);
  EXPECT_EQ(made->burn.probes[1].readings.seconds.size(), 60U);
  EXPECT_DOUBLE_EQ(made->burn.probes[1].readings.values.back(), 100.0);
  EXPECT_THAT(made->assumed, Contains(HasSubstr("'A1' was at spot 'left' until")));
}

TEST(Assemble, PutsProbesOnTheirGrates) {
  const std::string pit = "[pit]\nwidth='36 in'\n[[pit.grate]]\nname='lower'\nheight='6 in'\n";
  const auto made = assembled(head + pit + one_probe + "x='6 in'\n" + one_stint);
  ASSERT_TRUE(made) << made.error().what;
  EXPECT_EQ(made->burn.probes[0].grate, "lower");
  EXPECT_DOUBLE_EQ(made->burn.probes[0].z_m.value_or(0.0), 0.1524);
}

struct Mistake {
  std::string name;
  std::string rest;
  std::string said;
};

std::ostream& operator<<(std::ostream& out, const Mistake& mistake) {
  return out << mistake.name;
}

class AssembleMistakes : public testing::TestWithParam<Mistake> {};

TEST_P(AssembleMistakes, AreAnsweredWithPlaceAndNearestName) {
  EXPECT_THAT(mistake_in(GetParam().rest), HasSubstr(GetParam().said)) << GetParam().rest;
}

const std::string pit =
    "[pit]\nwidth='36 in'\n[[pit.grate]]\nname='lower'\n[[pit.grate]]\n"
    "name='upper'\n[[pit.adjustment]]\nname='baffle'\nrange=['0 in','9 in']\n"
    "[[pit.adjustment]]\nname='stack'\npositions=['shut','half','open']\n";

INSTANTIATE_TEST_SUITE_P(
    Each, AssembleMistakes,
    testing::Values(
        Mistake{"unknown_channel", "[[probe]]\nchannel='A3'\n" + one_stint,
                "burn.toml:4:9: no log has a channel 'A3'; did you mean 'A1'?"},
        Mistake{"drive_as_air", "[[probe]]\nchannel='fan'\n" + one_stint,
                "burn.toml:4:9: 'fan' is in %, which does not go with role \"air\""},
        Mistake{"temperature_as_wind", "[[probe]]\nchannel='A1'\nrole='wind'\n" + one_stint,
                "'A1' is in F, which does not go with role \"wind\""},
        Mistake{"unknown_grate", pit + "[[probe]]\nchannel='A1'\ngrate='uper'\n" + one_stint,
                "the pit has no grate 'uper'; did you mean 'upper'?"},
        Mistake{"outside_the_pit",
                pit + "[[probe]]\nchannel='A1'\ngrate='upper'\nx='40 in'\n" + one_stint,
                "x = 1.02 m lies outside the pit"},
        Mistake{
            "same_place_twice", one_stint + one_probe + one_probe,
            "burn.toml:9:9: channel 'A1' is at spot 'left' and at spot 'left' at the same time"},
        Mistake{"two_places_at_once",
                one_stint + one_probe + "to='2:00'\n" + one_probe + "from='1:30'\n",
                "at the same time; write 'from' and 'to'"},
        Mistake{"probe_ends_before_it_starts", one_stint + one_probe + "from='2:00'\nto='1:00'\n",
                "burn.toml:9:4: 'to' is not after 'from'"},
        Mistake{"probe_outside_the_logs", one_stint + one_probe + "from='5:00'\n",
                "burn.toml:8:6: this probe's time lies outside the logs"},
        Mistake{"stint_ends_before_it_starts",
                one_probe + "[[stint]]\nsetting='A'\nfrom='1:00'\nto='0:30'\n",
                "burn.toml:9:4: 'to' is not after 'from'"},
        Mistake{
            "stints_overlap",
            one_probe + "[[stint]]\nsetting='A'\nfrom='0:30'\nto='1:30'\n[[stint]]\n"
                        "setting='B'\nfrom='1:00'\n",
            "burn.toml:12:6: this stint (B) starts at 2026-05-02T13:00:00-05:00, before the one "
            "of line 6 (A) ends at 2026-05-02T13:30:00-05:00"},
        Mistake{"stint_outside_the_logs", one_probe + "[[stint]]\nsetting='A'\nfrom='9:00'\n",
                "burn.toml:8:6: this stint lies outside the logs, which run from "
                "2026-05-02T12:00:00-05:00 to 2026-05-02T16:00:00-05:00"},
        Mistake{"stint_without_from", one_probe + one_stint + one_stint, "[[stint]] needs 'from'"},
        Mistake{"stints_start_together",
                one_probe + "[[stint]]\nsetting='A'\nfrom='0:30'\n[[stint]]\nsetting='B'\n"
                            "from='0:30'\n",
                "two stints start at"},
        Mistake{"unknown_adjustment",
                pit + one_probe + "grate='lower'\n[[stint]]\nsetting={bafle='2 in'}\n",
                "the pit has no adjustment 'bafle'; did you mean 'baffle'?"},
        Mistake{"adjustment_beyond_its_range",
                pit + one_probe + "grate='lower'\n[[stint]]\nsetting={baffle='12 in'}\n",
                "'baffle' goes from 0 in to 9 in; '12 in' is not between them"},
        Mistake{"unknown_position",
                pit + one_probe + "grate='lower'\n[[stint]]\nsetting={stack='hlaf'}\n",
                "'stack' has no position 'hlaf'; did you mean 'half'?"},
        Mistake{"event_ends_before_it_starts",
                one_probe + one_stint + "[[event]]\nwhat='lid'\nat='1:00'\nuntil='0:50'\n",
                "'until' is before 'at'"},
        Mistake{"event_of_unknown_channel",
                one_probe + one_stint + "[[event]]\nwhat='moved'\nat='1:00'\nchannel='A9'\n",
                "no [[probe]] has the channel 'A9'; did you mean 'A1'?"},
        Mistake{"unknown_piece",
                one_stint + "[[piece]]\nname='shoulder 1'\n[[probe]]\nchannel='A1'\nrole='food'\n"
                            "piece='sholder 1'\n",
                "there is no [[piece]] named 'sholder 1'; did you mean 'shoulder 1'?"},
        Mistake{"piece_off_before_on",
                one_probe + one_stint + "[[piece]]\nname='x'\non='2:00'\noff='1:00'\n",
                "'off' is not after 'on'"},
        Mistake{"unit_against_header",
                one_probe + one_stint + "[[log]]\nfile='grate.csv'\nunit='C'\n",
                "the file 'grate.csv' says that 'A1' is in F, but [[log]] says unit = \"C\""},
        Mistake{"unit_that_makes_no_sense",
                "[[log]]\nfile='grate.csv'\nunit='K'\n[[probe]]\nchannel='X'\n" + one_stint,
                "make no sense in the unit they were taken to be in (K)"},
        Mistake{"hour_that_never_was",
                one_probe + "[[stint]]\nsetting='A'\nfrom=2026-03-08T02:30:00\n",
                "summer time skips it"}));

TEST(Assemble, AsksForTheUnitWhereNobodySaysIt) {
  auto log = four_hours();
  for (auto& channel : log.channels) channel.unit = logs::ChannelUnit::unknown;
  const auto made = assembled(head + one_probe + one_stint, log);
  ASSERT_FALSE(made);
  EXPECT_THAT(made.error().what, HasSubstr("write unit = \"F\" or unit = \"C\""));
}

TEST(Assemble, KeepsOffsetsWhereTheLogsHaveNoDate) {
  auto log = four_hours();
  log.stamps = logs::Stamps::elapsed;
  for (auto& channel : log.channels) {
    std::vector<std::int64_t> since(channel.ms.begin(), channel.ms.end());
    for (auto& ms : since) ms -= noon_ms;
    channel.ms = std::move(since);
  }
  const auto made = assembled(head + one_probe + "[[stint]]\nsetting='A'\nfrom='0:35'\n", log);
  ASSERT_TRUE(made) << made.error().what;
  EXPECT_FALSE(made->burn.clock.zero);
  EXPECT_EQ(made->burn.stints[0].from_s, 2100.0);
  const auto dated =
      assembled(head + one_probe + "[[stint]]\nsetting='A'\nfrom=2026-05-02T12:35:00\n", log);
  ASSERT_FALSE(dated);
  EXPECT_THAT(dated.error().what, HasSubstr("a date means nothing here"));
}

TEST(Assemble, WantsTheLogsNameWhereTwoShareAChannel) {
  const std::string two = "timezone='America/Chicago'\nlogs=['a.csv','b.csv']\n";
  const auto made_with = [&](const std::string& channel) {
    const auto document = documents::parse_burn(
        two + one_stint + "[[probe]]\nspot='left'\nchannel='" + channel + "'\n", "burn.toml");
    std::vector logs{four_hours(), four_hours()};
    return assemble(*document, logs);
  };
  ASSERT_FALSE(made_with("A1"));
  EXPECT_THAT(
      made_with("A1").error().what,
      HasSubstr("more than one log has a channel 'A1'; write \"a.csv:A1\" or \"b.csv:A1\""));
  EXPECT_TRUE(made_with("b.csv:A1"));
}

}  // namespace
}  // namespace pitwright::burns
