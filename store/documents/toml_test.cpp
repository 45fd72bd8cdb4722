#include "documents/toml.h"

#include <string>

#include <gtest/gtest.h>

#include "documents/nearest.h"

namespace pitwright::documents {
namespace {

std::string mistake_of(std::string_view text) {
  const auto table = parse_toml(text, "burn.toml");
  return table ? "" : table.error().what;
}

TEST(Toml, GivesValuesWithTheirPlaces) {
  const auto table =
      parse_toml("a = 1\n[b]\nc = 'x' # é\n\"d é\" = 2026-05-02T13:05:00-05:00\n", "");
  ASSERT_TRUE(table);
  EXPECT_EQ(std::get<std::int64_t>(table->find("a")->value.of), 1);
  const auto& b = std::get<Table>(table->find("b")->value.of);
  EXPECT_EQ(std::get<std::string>(b.find("c")->value.of), "x");
  EXPECT_EQ(b.find("c")->place.line, 3);
  EXPECT_EQ(b.find("c")->value.place.column, 5);
  const auto stamp = std::get<Instant>(b.find("d é")->value.of);
  EXPECT_EQ(stamp.time_since_epoch().count(), 1777745100'000);  // 2026-05-02T18:05Z
}

TEST(Toml, NamesTheLineOfAMistake) {
  EXPECT_TRUE(mistake_of("a = 1\nb = \n").starts_with("burn.toml:2:"))
      << mistake_of("a = 1\nb = \n");
  EXPECT_TRUE(mistake_of("a = \"never closed\nb = 1\n").starts_with("burn.toml:1:"));
  EXPECT_FALSE(mistake_of("a = 1\na = 2\n").empty());
  EXPECT_FALSE(mistake_of("a = 2026-02-30T00:00:00\n").empty());
}

// These reach an assertion or undefined behavior in toml++ 3.3.0 when nothing stands before it.
TEST(TomlGuard, TurnsAwayWhatTheLibraryCannotBear) {
  EXPECT_EQ(mistake_of("x = 1\n[\x01"), "burn.toml:2:2: control character (code 1); take it out");
  EXPECT_EQ(mistake_of("\xCD\xA4 = 1"),
            "burn.toml:1:1: '\xCD\xA4' may stand only in a text in quotes or in a comment");
  EXPECT_EQ(mistake_of("ab\xCD\xA4 = 1"),
            "burn.toml:1:3: '\xCD\xA4' may stand only in a text in quotes or in a comment");
  EXPECT_EQ(mistake_of("a = \"x\x7F\""),
            "burn.toml:1:7: control character (code 127); take it out");
  EXPECT_EQ(mistake_of(std::string("a\0 = 1", 6)),
            "burn.toml:1:2: control character (code 0); take it out");
}

TEST(TomlGuard, RefusesBrokenUtf8EverywhereButBearsTheRest) {
  for (const char* text : {"# \xFF", "a = \"\xC3\"", "a = '\xE2\x82'", "a = \"\xED\xA0\x80\"",
                           "a = '\xF5\x80\x80\x80'", "a = '\xC0\x80'"}) {
    EXPECT_NE(mistake_of(text).find("not UTF-8"), std::string::npos) << text;
  }
  for (const char* text : {"\xEF\xBB\xBFtitle = \"Rückwand\"\r\n",
                           "a = \"\"\" é\n \\\" é\"\"\"\nb = ''' é\n'''\n# é\n", "a = \"\\\\\" # é",
                           "a = 'c:\\' # é", "\"é\" = 'é'"}) {
    EXPECT_EQ(mistake_of(text), "") << text;
  }
}

TEST(Nearest, CountsLettersAndSwaps) {
  EXPECT_EQ(edit_distance("sport", "spot"), 1);
  EXPECT_EQ(edit_distance("sopt", "spot"), 1);
  EXPECT_EQ(edit_distance("SPOT", "spot"), 0);
  EXPECT_EQ(edit_distance("", "spot"), 4);
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3);
}

TEST(Nearest, SuggestsOnlyWhatIsClose) {
  const std::vector<std::string> known{"channel", "spot", "grate"};
  EXPECT_EQ(nearest("sport", known), "spot");
  EXPECT_EQ(nearest("chanel", known), "channel");
  EXPECT_EQ(nearest("weather", known), "");
  EXPECT_EQ(suggestion("weather", known), "; known are 'channel', 'spot', 'grate'");
}

}  // namespace
}  // namespace pitwright::documents
