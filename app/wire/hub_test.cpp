#include "wire/hub.h"

#include <gmock/gmock.h>

namespace pitwright::wire {
namespace {

using testing::HasSubstr;

std::string all(const Viewer& viewer) {
  std::string text;
  for (const auto& frame : viewer.waiting) text += *frame;
  return text;
}

// Format: HTML Living Standard, section 9.2.5, "Parsing an event stream".
TEST(Hub, writes_an_event_as_the_standard_has_it) {
  Hub hub(7);
  const auto viewer = hub.join("a", std::nullopt, {});
  hub.publish("a", "fire", "{\"x\":1}");
  EXPECT_EQ(all(*viewer), "id: 7\nevent: fire\ndata: {\"x\":1}\n\n");
}

TEST(Hub, sends_only_what_is_watched_and_wakes_the_viewer) {
  Hub hub(1);
  int woken = 0;
  const auto viewer = hub.join("a", std::nullopt, [&] { ++woken; });
  hub.publish("b", "fire", "{}");
  EXPECT_EQ(woken, 0);
  hub.publish("a", "fire", "{}");
  EXPECT_EQ(woken, 1);
  EXPECT_TRUE(hub.is_watched("a"));
  EXPECT_THAT(hub.watched(), testing::ElementsAre("a"));
  hub.leave(viewer);
  EXPECT_THAT(hub.watched(), testing::IsEmpty());
  EXPECT_FALSE(hub.is_watched("a"));
}

TEST(Hub, gives_who_comes_back_what_was_missed) {
  Hub hub(1);
  hub.publish("a", "n", "1");
  hub.publish("b", "n", "2");
  hub.publish("a", "n", "3");
  const auto viewer = hub.join("a", 1, {});
  EXPECT_EQ(all(*viewer), "id: 3\nevent: n\ndata: 3\n\n");
  const auto early = hub.join("a", 0, {});
  EXPECT_EQ(early->waiting.size(), 2u) << "nothing has been forgotten yet";
}

TEST(Hub, says_lost_where_what_was_missed_is_gone) {
  Hub hub(100, {.kept = 2, .waiting = 8});
  for (int i = 0; i < 4; ++i) hub.publish("a", "n", "x");  // 100 to 103; 102 and 103 are kept
  EXPECT_EQ(all(*hub.join("a", 101, {})).find("lost"), std::string::npos);
  EXPECT_THAT(all(*hub.join("a", 100, {})), HasSubstr("lost"));
  EXPECT_THAT(all(*hub.join("a", 12, {})), HasSubstr("lost")) << "of an earlier hub";
  EXPECT_THAT(all(*hub.join("a", 104, {})), HasSubstr("lost")) << "of nobody";
}

TEST(Hub, keeps_a_slow_viewer_bounded_and_tells_it) {
  Hub hub(1, {.kept = 4, .waiting = 3});
  const auto slow = hub.join("a", std::nullopt, {});
  for (int i = 0; i < 100; ++i) {
    hub.publish("a", "n", "x");
    EXPECT_LE(slow->waiting.size(), 3u);
  }
  EXPECT_THAT(all(*slow), HasSubstr("lost"));
  EXPECT_THAT(all(*slow), HasSubstr("id: 100\n")) << "the newest is always there";
  EXPECT_GT(hub.lost(), 0u);
}

}  // namespace
}  // namespace pitwright::wire
