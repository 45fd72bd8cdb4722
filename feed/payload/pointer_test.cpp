#include "payload/pointer.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace pitwright::feed {
namespace {

using nlohmann::json;

std::string all_of(const json& document, std::string_view path) {
  const auto selector = Selector::parse(path);
  if (!selector) return "error: " + selector.error().what;
  std::string out;
  for (const auto* one : selector->all(document)) out += (out.empty() ? "" : " ") + one->dump();
  return out;
}

TEST(Selector, GivesTheExamplesOfRfc6901) {
  // Source: RFC 6901, section 5.
  const auto document = json::parse(R"({"foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3,
      "g|h": 4, "i\\j": 5, "k\"l": 6, " ": 7, "m~n": 8})");
  EXPECT_EQ(all_of(document, ""), document.dump());
  EXPECT_EQ(all_of(document, "/foo"), R"(["bar","baz"])");
  EXPECT_EQ(all_of(document, "/foo/0"), R"("bar")");
  EXPECT_EQ(all_of(document, "/"), "0");
  EXPECT_EQ(all_of(document, "/a~1b"), "1");
  EXPECT_EQ(all_of(document, "/c%d"), "2");
  EXPECT_EQ(all_of(document, "/e^f"), "3");
  EXPECT_EQ(all_of(document, "/g|h"), "4");
  EXPECT_EQ(all_of(document, "/i\\j"), "5");
  EXPECT_EQ(all_of(document, "/k\"l"), "6");
  EXPECT_EQ(all_of(document, "/ "), "7");
  EXPECT_EQ(all_of(document, "/m~0n"), "8");
  EXPECT_EQ(all_of(document, "/foo/00"), "") << "section 4: no leading zeros";
  EXPECT_EQ(all_of(document, "/foo/-"), "") << "section 4: past the last element";
}

TEST(Selector, GivesTheExamplesOfRfc9535) {
  // Source: RFC 9535, sections 2.3.1.3, 2.3.2.3, 2.3.3.3.
  const auto names = json::parse(R"({"o": {"j j": {"k.k": 3}}, "'": {"@": 2}})");
  EXPECT_EQ(all_of(names, "$.o['j j']"), R"({"k.k":3})");
  EXPECT_EQ(all_of(names, "$.o['j j']['k.k']"), "3");
  EXPECT_EQ(all_of(names, R"($.o["j j"]["k.k"])"), "3");
  EXPECT_EQ(all_of(names, R"($["'"]["@"])"), "2");
  const auto wild = json::parse(R"({"o": {"j": 1, "k": 2}, "a": [5, 3]})");
  EXPECT_EQ(all_of(wild, "$[*]"), R"([5,3] {"j":1,"k":2})") << "order of members is not told";
  EXPECT_EQ(all_of(wild, "$.o[*]"), "1 2");
  EXPECT_EQ(all_of(wild, "$.o.*"), "1 2");
  EXPECT_EQ(all_of(wild, "$.a[*]"), "5 3");
  const auto index = json::parse(R"(["a", "b"])");
  EXPECT_EQ(all_of(index, "$[1]"), R"("b")");
  EXPECT_EQ(all_of(index, "$[-2]"), R"("a")");
  EXPECT_EQ(all_of(index, "$[2]"), "");
}

TEST(Selector, SaysWhereItIsWrong) {
  for (const auto* path :
       {"temp", "$.", "$.3", "$[", "$[1", "$['a", "$x", "/a~2", "$..a", "$[1:2]"}) {
    EXPECT_THAT(all_of(json::object(), path), testing::HasSubstr("at letter")) << path;
  }
}

}  // namespace
}  // namespace pitwright::feed
