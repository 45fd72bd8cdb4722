#include "wire/target.h"

#include <gmock/gmock.h>

namespace pitwright::wire {
namespace {

TEST(Target, is_taken_apart_and_decoded) {
  const auto target = read_target("/api/burns/a%2Db?unit=F&from=A%20b&text=x+y&from=B&empty&=");
  ASSERT_TRUE(target);
  EXPECT_EQ(target->path, "/api/burns/a-b");
  EXPECT_EQ(target->query.find("unit")->second, "F");
  EXPECT_EQ(target->query.find("text")->second, "x y");
  EXPECT_EQ(target->query.count("from"), 2u);
  EXPECT_EQ(target->query.find("empty")->second, "");
}

TEST(Target, a_plus_in_the_path_is_a_plus) {
  EXPECT_EQ(read_target("/a+b")->path, "/a+b");
}

TEST(Target, what_is_malformed_is_refused) {
  for (const char* bad :
       {"", "x", "http://a/b", "/%", "/%2", "/%g0", "/%-1", "/a%00b", "/a%0d%0ab", "/?a=%zz"})
    EXPECT_FALSE(read_target(bad)) << bad;
}

}  // namespace
}  // namespace pitwright::wire
