#include "numeric/parallel.h"

#include <stdexcept>
#include <vector>

#include <gtest/gtest.h>

namespace pitwright::numeric {
namespace {

TEST(ParallelFor, DoesEveryIndexOnce) {
  std::vector<int> done(1000);
  parallel_for(1000, [&](int i) { done[static_cast<std::size_t>(i)] += i + 1; });
  for (int i = 0; i < 1000; ++i) EXPECT_EQ(done[static_cast<std::size_t>(i)], i + 1);
  parallel_for(0, [](int) { FAIL(); });
}

TEST(ParallelFor, ThrowsAgainWhatACallThrows) {
  EXPECT_THROW(parallel_for(8,
                            [](int i) {
                              if (i == 5) throw std::runtime_error("five");
                            }),
               std::runtime_error);
}

}  // namespace
}  // namespace pitwright::numeric
