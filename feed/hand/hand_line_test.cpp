#include "hand/hand_line.h"

#include <gtest/gtest.h>

namespace pitwright::feed {
namespace {

using namespace std::chrono;
constexpr Moment now{sys_days(2026y / May / 2) + 18h + 30min};  // 13:30 in Chicago

std::string said(std::string_view line, logs::ChannelUnit unit = logs::ChannelUnit::unknown) {
  const auto reading = hand_line(line, {"hand", "", unit, "America/Chicago"}, now);
  if (!reading) return "";
  return reading->channel + "=" + std::to_string(reading->value).substr(0, 5) + "@" +
         std::to_string((reading->at - now) / 1min);
}

TEST(HandLine, ReadsAReadingAsItIsTyped) {
  EXPECT_EQ(said("A1 212 F"), "A1=100.0@0");
  EXPECT_EQ(said("  left front 2  117.5C "), "left front 2=117.5@0");
  EXPECT_EQ(said("A1 212 °F at 13:05"), "A1=100.0@-25");
  EXPECT_EQ(said("A1 100 C at 23:30"), "A1=100.0@-840") << "yesterday evening";
  EXPECT_EQ(said("A1 100 C at 2026-05-02 12:30:00"), "A1=100.0@-60");
  EXPECT_EQ(said("A1 100", logs::ChannelUnit::celsius), "A1=100.0@0");
}

TEST(HandLine, RefusesWhatIsNoReading) {
  for (const auto* line : {"", "A1", "100 C", "A1 100", "A1 100 bar", "A1 100 C at noon",
                           "A1 9999 C", "A1 C 100 at 25:00"}) {
    EXPECT_EQ(said(line), "") << line;
  }
}

}  // namespace
}  // namespace pitwright::feed
