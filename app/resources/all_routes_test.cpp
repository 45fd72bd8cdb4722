#include <gmock/gmock.h>

#include "resources/resources.h"

namespace pitwright::resources {
namespace {

TEST(Routes, of_the_server_have_a_resource_each_and_no_two_of_a_kind) {
  const auto routes = all_routes();
  for (auto one = routes.begin(); one != routes.end(); ++one) {
    EXPECT_NE(one->resource, nullptr) << one->pattern;
    for (auto other = routes.begin(); other != one; ++other)
      EXPECT_FALSE(one->method == other->method && one->pattern == other->pattern) << one->pattern;
  }
}

}  // namespace
}  // namespace pitwright::resources
