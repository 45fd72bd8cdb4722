#include "readings/outlet.h"

#include <atomic>
#include <string>
#include <thread>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::feed {
namespace {

using namespace std::chrono_literals;

Delivery delivery(const std::string& source, int readings) {
  return {source,
          std::vector<Reading>(static_cast<std::size_t>(readings), Reading{"A", {}, 1, true}),
          {}};
}

TEST(Outlet, HoldsASourceUntilItsReadingsAreDurableAndTriesAgainWhileTheStoreIsAway) {
  std::vector<std::string> said;
  Troubles troubles([&said](const std::string& line) { said.push_back(line); });
  Outlet outlet;
  std::atomic<int> done = 0;
  std::thread source([&] {
    for (int i = 0; i < 3; ++i) done += outlet.deliver(delivery("s", 5)) ? 1 : 100;
  });
  int calls = 0, prepared = 0, stored = 0;
  const Prepare prepare = [&prepared](Delivery&) { ++prepared; };
  const Sink sink = [&](std::span<const Delivery> batch) -> Result<Taken> {
    ++calls;
    EXPECT_EQ(batch.size(), 1U) << "a source has one delivery under way";
    if (calls <= 4) return fail(ErrorKind::unavailable, "disk full");
    stored += static_cast<int>(batch.front().readings.size());
    return Taken{5, 0, 0, 0};
  };
  while (calls < 4) outlet.serve(prepare, sink, 10ms, troubles);
  EXPECT_EQ(done, 0) << "nothing acknowledged while the store is away";
  EXPECT_EQ(prepared, 1) << "offered again as it is";
  while (done < 3) outlet.serve(prepare, sink, 10ms, troubles);
  source.join();
  EXPECT_EQ(done, 3);
  EXPECT_EQ(stored, 15);
  EXPECT_THAT(said,
              testing::ElementsAre(testing::HasSubstr("disk full"), testing::HasSubstr("again")));
}

TEST(Outlet, StoresWhatWaitsAtTheSameTimeTogether) {
  Troubles troubles([](const std::string&) {});
  Outlet outlet;
  std::vector<std::thread> sources;
  std::atomic<int> begun = 0;
  for (int i = 0; i < 4; ++i) {
    sources.emplace_back([&outlet, &begun, i] {
      ++begun;
      EXPECT_TRUE(outlet.deliver(delivery(std::to_string(i), 1)));
    });
  }
  while (begun < 4) std::this_thread::yield();
  std::this_thread::sleep_for(50ms);
  std::size_t most = 0, all = 0;
  while (all < 4) {
    outlet.serve([](Delivery&) {},
                 [&](std::span<const Delivery> batch) -> Result<Taken> {
                   most = std::max(most, batch.size());
                   all += batch.size();
                   return Taken{};
                 },
                 10ms, troubles);
  }
  for (auto& source : sources) source.join();
  EXPECT_GT(most, 1U);
}

TEST(Outlet, LetsSourcesGoAtTheEndWithoutAPromise) {
  Troubles troubles([](const std::string&) {});
  Outlet outlet;
  bool durable = true;
  std::thread source([&] { durable = outlet.deliver(delivery("s", 1)); });
  const Sink away = [](std::span<const Delivery>) -> Result<Taken> {
    return fail(ErrorKind::unavailable, "away");
  };
  for (int i = 0; i < 5; ++i) outlet.serve([](Delivery&) {}, away, 5ms, troubles);
  outlet.stop();
  source.join();
  EXPECT_FALSE(durable);
  EXPECT_FALSE(outlet.deliver(delivery("s", 1)));
  EXPECT_TRUE(outlet.pause(10s)) << "returns at once";
}

TEST(Troubles, SaysAKindOnceAndBoundsWhatItRemembers) {
  int said = 0;
  Troubles troubles([&said](const std::string&) { ++said; });
  for (int i = 0; i < 10; ++i) troubles.once("a", "x");
  EXPECT_EQ(said, 1);
  troubles.over("a");
  troubles.once("a", "x");
  EXPECT_EQ(said, 2);
  for (int i = 0; i < 5000; ++i) troubles.once(std::to_string(i), "x");
  EXPECT_LE(said, 1002);
  EXPECT_EQ(troubles.total(), 5011);
  EXPECT_EQ(shown(std::string("a\nb\x01") + std::string(100, 'c')).substr(0, 5), "a?b?c");
}

}  // namespace
}  // namespace pitwright::feed
