#include "report/text_width.h"

#include <gtest/gtest.h>

namespace pitwright::report {
namespace {

// Source of the widths: Unicode 14, EastAsianWidth.txt (W, F are two columns) and the general
// categories of combining marks.
TEST(DisplayWidth, CountsColumnsNotBytes) {
  EXPECT_EQ(display_width("left front"), 10);
  EXPECT_EQ(display_width("links außen"), 11);
  EXPECT_EQ(display_width("左前"), 4);
  EXPECT_EQ(display_width("слева"), 5);
  EXPECT_EQ(display_width("e\u0301"), 1);  // e and a combining acute
  EXPECT_EQ(display_width("🔥"), 2);
  EXPECT_EQ(display_width("−14°"), 4);
  EXPECT_EQ(display_width("\xff\xfe"), 2);
}

TEST(CleanName, LetsNoLogSteerTheTerminal) {
  EXPECT_EQ(clean_name("A\x1b[31mB"), "A\uFFFD[31mB");
  EXPECT_EQ(clean_name("A\r\nB"), "A\uFFFD\uFFFDB");
  EXPECT_EQ(clean_name("A\u202EB"), "A\uFFFDB");  // turns the writing direction
  EXPECT_EQ(clean_name("A\xc3"), "A\uFFFD");
  EXPECT_EQ(clean_name("\xed\xa0\x80"), "\uFFFD\uFFFD\uFFFD");  // a lone surrogate
  EXPECT_EQ(clean_name("\xc0\xaf"), "\uFFFD\uFFFD");            // an overlong slash
  EXPECT_EQ(clean_name("左前 außen"), "左前 außen");
}

TEST(Shortened, CutsAtAColumnNeverInsideACharacter) {
  EXPECT_EQ(shortened("left front", 10), "left front");
  EXPECT_EQ(shortened("left front", 5), "left…");
  EXPECT_EQ(shortened("左前の棚", 6), "左前…");
}

TEST(Wrapped, BreaksAtBlanksAndKeepsARangeWhole) {
  const auto lines = wrapped("moves the heat 14° (12 to 16) to the right", 22);
  ASSERT_EQ(lines.size(), 3U);
  EXPECT_EQ(lines[0], "moves the heat 14°");
  EXPECT_EQ(lines[1], "(12 to 16) to the");
  EXPECT_EQ(lines[2], "right");
}

TEST(Wrapped, LosesNoWord) {
  EXPECT_EQ(wrapped("extraordinarily long", 5).size(), 2U);
  EXPECT_TRUE(wrapped("", 5).empty());
}

}  // namespace
}  // namespace pitwright::report
