#include "http/body.h"

#include <gmock/gmock.h>

#include "http/stamps.h"

namespace pitwright::http {
namespace {

using testing::HasSubstr;
using namespace std::chrono;

TEST(Body, is_read_key_by_key) {
  auto body = Body::object(
      R"({"a":"x","n":1.5,"t":true,"none":null,"at":"2026-05-02T13:05:00-05:00","list":["p","q"]})");
  ASSERT_TRUE(body);
  EXPECT_EQ(body->text("a"), "x");
  EXPECT_EQ(body->number("n"), 1.5);
  EXPECT_EQ(body->truth("t"), true);
  EXPECT_EQ(body->text("none"), std::nullopt);
  EXPECT_EQ(body->stamp("at"), sys_days(2026y / 5 / 2) + 18h + 5min);
  EXPECT_EQ(body->texts("list")->size(), 2u);
  EXPECT_TRUE(body->finish());
}

TEST(Body, names_the_mistake) {
  const auto mistake = [](std::string_view text, auto read) {
    auto body = Body::object(text);
    read(*body);
    const auto finished = body->finish();
    return finished ? std::string() : finished.error().what;
  };
  EXPECT_THAT(mistake(R"({"a":1})", [](Body& body) { body.text("a"); }),
              HasSubstr("a: expected a text"));
  EXPECT_THAT(mistake(R"({"a":"b\u0007"})", [](Body& body) { body.text("a"); }),
              HasSubstr("control"));
  EXPECT_THAT(mistake(R"({"a":"12345"})", [](Body& body) { body.text("a", 4); }),
              HasSubstr("at most 4"));
  EXPECT_THAT(mistake(R"({"a":"1"})", [](Body& body) { body.number("a"); }),
              HasSubstr("expected a number"));
  EXPECT_THAT(mistake(R"({})", [](Body& body) { body.require("a"); }), HasSubstr("a: is missing"));
  EXPECT_THAT(mistake(R"({"b":1})", [](Body&) {}), HasSubstr("'b' is not a key"));
  for (const char* bad : {"", "[]", "nonsense", "{\"a\":", "\"text\"", "{\"a\":1e999}x"})
    EXPECT_FALSE(Body::object(bad)) << bad;
}

TEST(Body, a_list_says_which_entry_is_wrong) {
  auto list = Body::list(R"([{"a":"x"},{"a":2}])", 2);
  ASSERT_TRUE(list);
  (*list)[1].text("a");
  EXPECT_THAT((*list)[1].finish().error().what, HasSubstr("[1]: a:"));
  EXPECT_THAT(Body::list("[{},{},{}]", 2).error().what, HasSubstr("at most 2"));
  EXPECT_FALSE(Body::list("[1]", 2));
}

// Source: the examples of RFC 3339 section 5.8.
TEST(Stamps, are_read_as_the_standard_writes_them) {
  EXPECT_EQ(*parse_stamp("1985-04-12T23:20:50.52Z"),
            sys_days(1985y / 4 / 12) + 23h + 20min + 50s + 520ms);
  EXPECT_EQ(*parse_stamp("1996-12-19T16:39:57-08:00"),
            sys_days(1996y / 12 / 20) + 0h + 39min + 57s);
  EXPECT_EQ(stamp_text(*parse_stamp("1996-12-19T16:39:57-08:00")), "1996-12-20T00:39:57Z");
  EXPECT_EQ(stamp_text(*parse_stamp("1985-04-12T23:20:50.5200001Z")),
            "1985-04-12T23:20:50.520000Z");
}

TEST(Stamps, without_offset_or_out_of_range_are_refused) {
  for (const char* bad : {"", "2026-05-02", "2026-05-02T13:05:00", "2026-02-30T13:05:00Z",
                          "2026-05-02T24:00:00Z", "0026-05-02T13:05:00Z", "2026-05-02T13:05:00+5",
                          "2026-05-02T13:05:00Zx", "2026-05-02T13:05:00.Z", "9999-05-02T13:05:00Z"})
    EXPECT_FALSE(parse_stamp(bad)) << bad;
}

}  // namespace
}  // namespace pitwright::http
