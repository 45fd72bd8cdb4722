#include "readings/clock_watch.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::feed {
namespace {

using namespace std::chrono;
constexpr Moment start{sys_days(2026y / November / 1) + 6h};

/// How often a step of that kind was told while stamps came a second apart.
struct Watched {
  ClockWatch watch;
  int back = 0, ahead = 0;
  microseconds by{};

  void see(Moment stamp, Moment arrival) {
    const auto step = watch.see(stamp, arrival);
    if (!step) return;
    ++(step->kind == ClockStep::Kind::back ? back : ahead);
    by = step->by;
  }
};

TEST(ClockWatch, SeesAClockThatWasSetBackAnHour) {
  Watched w;
  for (int s = 0; s < 600; ++s) w.see(start + seconds(s), start + seconds(s));
  for (int s = 600; s < 1200; ++s) w.see(start + seconds(s) - 1h, start + seconds(s));
  EXPECT_EQ(w.back, 1);
  EXPECT_EQ(w.by, 3599s);
  EXPECT_EQ(w.ahead, 0);
  EXPECT_EQ(step_sentence("yard", {ClockStep::Kind::back, start, 3599s}).find("0:59:59"),
            std::string("yard: stamps went back ").size());
}

TEST(ClockWatch, SeesAClockThatWasSetForward) {
  Watched w;
  for (int s = 0; s < 100; ++s) w.see(start + seconds(s), start + seconds(s));
  for (int s = 100; s < 200; ++s) w.see(start + seconds(s) + 1h, start + seconds(s));
  EXPECT_EQ(w.ahead, 1);
  EXPECT_EQ(w.back, 0);
}

TEST(ClockWatch, IsQuietAboutSingleLateReadingsBacklogsInOrderAndManyChannels) {
  Watched w;
  for (int s = 0; s < 600; ++s) {
    for (int channel = 0; channel < 8; ++channel) w.see(start + seconds(s), start + seconds(s));
    if (s % 50 == 20) w.see(start + seconds(s) - 30min, start + seconds(s));  // one late reading
  }
  for (int s = 600; s < 5000; ++s) w.see(start + seconds(s), start + seconds(5000));  // backlog
  EXPECT_EQ(w.back + w.ahead, 0);
}

TEST(ClockWatch, IsQuietAboutARehearsalAtSixtyTimesTheSpeed) {
  Watched w;
  for (int s = 0; s < 600; ++s) w.see(start - 10h + minutes(s), start + seconds(s));
  EXPECT_EQ(w.back + w.ahead, 0);
}

TEST(HostClockWatch, SeesThisComputersClockBeingSet) {
  HostClockWatch host;
  const steady_clock::time_point steady{};
  EXPECT_FALSE(host.look(start, steady));
  EXPECT_FALSE(host.look(start + 10s, steady + 10s));
  EXPECT_EQ(host.look(start + 20s - 1h, steady + 20s), -1h);
  EXPECT_FALSE(host.look(start + 30s - 1h, steady + 30s));
  EXPECT_FALSE(host.look(start + 40s - 1h + 500ms, steady + 40s)) << "slewing is nothing";
}

TEST(Texts, SayMomentsAndSpans) {
  EXPECT_EQ(utc_text(start + 90ms), "2026-11-01T06:00:00.090Z");
  EXPECT_EQ(span_text(-3725s), "1:02:05");
}

}  // namespace
}  // namespace pitwright::feed
