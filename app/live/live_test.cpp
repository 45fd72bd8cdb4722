#include <algorithm>

#include <gmock/gmock.h>

#include "call/call.h"
#include "live/fire.h"
#include "live/fire_json.h"
#include "live/newest.h"
#include "rehearse/scenarios.h"

namespace pitwright::live {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

/// A hopper pit, two settings, four stints of 35 min; made up by the physical pit.
const Burn& hopper() {
  static const Burn burn = [] {
    const auto scenario = rehearse::make_scenario("hopper-tray");
    return rehearse::rehearse(*scenario, 1, {.with_truth = false})->burn;
  }();
  return burn;
}

Fire at(double seconds) {
  const auto report = call::make_call(hopper(), {.as_known_at_s = seconds});
  if (!report) return waiting_fire(hopper(), report.error().what);
  return fire_of({*report, hopper(), Scale::fahrenheit});
}

TEST(Fire, counts_down_to_the_next_change) {
  const auto& second = hopper().stints[1];
  const auto early = at(second.from_s + 60.0);
  EXPECT_EQ(early.state, "settling");
  const auto later = at(second.from_s + 1500.0);
  EXPECT_EQ(later.state, "counting");
  ASSERT_TRUE(later.countdown_s && later.next_at_s);
  EXPECT_NEAR(*later.countdown_s, *later.next_at_s - (second.from_s + 1500.0), 1.0);
  const auto sooner = at(second.from_s + 1560.0);
  ASSERT_TRUE(sooner.countdown_s);
  EXPECT_LT(*sooner.countdown_s, *later.countdown_s);
  EXPECT_THAT(later.next, HasSubstr("change to"));
}

TEST(Fire, sorts_questions_into_settled_and_open) {
  const auto fire = at(hopper().last_s());
  EXPECT_THAT(fire.clear.size() + fire.open.size(), testing::Ge(6u))
      << "level, three tilts, spread, dial gap, spots";
  EXPECT_THAT(fire.clear, Not(IsEmpty()));
  EXPECT_THAT(fire.clear.front() + fire.clear.back(), HasSubstr("no odds"));
}

TEST(Fire, over_is_out) {
  const auto report = call::make_call(hopper());
  const auto fire = fire_of({*report, hopper(), Scale::celsius});
  EXPECT_EQ(fire.state, "out");
  EXPECT_FALSE(fire.countdown_s);
}

TEST(Fire, waits_with_a_reason) {
  Burn empty;
  EXPECT_THAT(waiting_fire(empty, "why").next, HasSubstr("thermometer"));
  empty.probes.emplace_back();
  EXPECT_THAT(waiting_fire(empty, "why").next, HasSubstr("setting"));
  empty.stints.emplace_back();
  EXPECT_THAT(waiting_fire(empty, "why").next, HasSubstr("No reading yet"));
  empty.probes.front().readings = {{0.0}, {100.0}};
  EXPECT_EQ(waiting_fire(empty, "the clock is off").next, "The clock is off.");
}

TEST(Newest, runs_against_the_mean_of_the_moment_and_sum_to_nothing) {
  const auto all = newest_of(hopper());
  double sum = 0.0;
  int spots = 0;
  for (const auto& one : all) {
    EXPECT_EQ(one.run_k.has_value(), one.role == Role::air) << one.channel;
    if (!one.run_k) continue;
    sum += *one.run_k;
    ++spots;
  }
  EXPECT_EQ(spots, 6);
  EXPECT_NEAR(sum, 0.0, 1e-9);
}

Probe probe(const std::string& channel, const std::string& spot, double at_s, double value) {
  Probe one;
  one.channel = channel;
  one.spot = spot;
  one.readings = {{at_s}, {value}};
  return one;
}

TEST(Newest, a_moved_channel_is_where_it_sat_last_and_a_silent_one_has_no_run) {
  Burn burn;
  burn.probes = {probe("a", "left", 0.0, 100.0), probe("b", "right", 1000.0, 120.0),
                 probe("a", "back", 1000.0, 110.0), probe("c", "front", 10.0, 300.0)};
  burn.probes[2].correction = TemperatureDelta::from_kelvins(2.0);
  const auto all = newest_of(burn);
  ASSERT_EQ(all.size(), 3u);
  EXPECT_EQ(all[0].spot, "back");
  EXPECT_EQ(all[0].value, 112.0);
  EXPECT_EQ(all[0].run_k, -4.0);
  EXPECT_FALSE(all[2].run_k) << "heard too long ago";
}

TEST(FireJson, turns_readings_and_runs_by_their_own_rules) {
  Burn burn;
  burn.probes = {probe("a", "left", 0.0, 100.0), probe("b", "right", 0.0, 110.0)};
  EXPECT_THAT(latest_json(burn, Scale::fahrenheit), HasSubstr("\"value\":212.0,\"runs\":-9.0"));
  EXPECT_THAT(latest_json(burn, Scale::celsius), HasSubstr("\"value\":110.0,\"runs\":5.0"));
}

TEST(FireJson, says_nothing_of_a_fire_after_a_minute) {
  Burn burn = hopper();
  for (auto& probe : burn.probes) {
    const auto count =
        std::ranges::upper_bound(probe.readings.seconds, probe.readings.seconds.front() + 60.0) -
        probe.readings.seconds.begin();
    probe.readings.seconds.resize(static_cast<std::size_t>(count));
    probe.readings.values.resize(static_cast<std::size_t>(count));
  }
  const auto made = call::make_call(burn, {.as_known_at_s = burn.last_s()});
  EXPECT_THAT(fire_json({burn, made, Scale::celsius, true, {}}),
              HasSubstr("\"word\":\"Listening\""));
  EXPECT_THAT(fire_json({burn, made, Scale::celsius, true, {}}), HasSubstr("\"soaked\":null"));
}

TEST(FireJson, says_when_nothing_has_been_heard) {
  Burn burn;
  const Result<call::Report> none = fail(ErrorKind::bad_input, "nothing yet");
  EXPECT_THAT(fire_json({burn, none, Scale::celsius, true, 600.0}),
              HasSubstr("Nothing has been heard for 10 min"));
  EXPECT_THAT(fire_json({burn, none, Scale::celsius, false, 600.0}), Not(HasSubstr("heard")));
  EXPECT_THAT(fire_json({burn, none, Scale::celsius, true, {}}),
              HasSubstr("\"as_of\":null,\"state\":\"waiting\""));
}

}  // namespace
}  // namespace pitwright::live
