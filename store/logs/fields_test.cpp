#include "logs/fields.h"

#include <gmock/gmock.h>

namespace pitwright::logs {
namespace {

using testing::ElementsAre;

std::vector<std::string> split(std::string_view record, char delimiter) {
  Splitter splitter(delimiter);
  const auto& cells = splitter.split(record);
  return {cells.begin(), cells.end()};
}

TEST(Splitter, FollowsRfc4180) {
  EXPECT_THAT(split("a,\"b,c\",\"d \"\"e\"\"\",\"\"\n", ','),
              ElementsAre("a", "b,c", "d \"e\"", ""));
  EXPECT_THAT(split("a,\"b\nc\",d\r\n", ','), ElementsAre("a", "b\nc", "d"));
  EXPECT_THAT(split(",,\n", ','), ElementsAre("", "", ""));
}

TEST(Splitter, KeepsQuotesThatDoNotQuote) {
  EXPECT_THAT(split("12\" probe,\"lost,3\n", ','), ElementsAre("12\" probe", "\"lost", "3"));
  EXPECT_THAT(split("\"a\"b,c\n", ','), ElementsAre("\"a\"b", "c"));
}

TEST(Splitter, TakesRunsOfBlanksAsOneDelimiter) {
  EXPECT_THAT(split("  a   b\t \"c d\"  e \n", ' '), ElementsAre("a", "b", "c d", "e"));
  EXPECT_THAT(split("a\t\tb\n", '\t'), ElementsAre("a", "", "b"));
}

TEST(RecordLength, EndsAtTheLineUnlessAQuoteIsOpen) {
  EXPECT_EQ(record_length("a,b\nc\n", ','), 4U);
  EXPECT_EQ(record_length("a,\"b\nc\",d\ne\n", ','), 10U);
  EXPECT_EQ(record_length("a,\"b\nc,d\ne\n", ','), 5U) << "a quote never closed ends nothing";
  EXPECT_EQ(record_length("a,\"b\n\"c,d\n", ','), 5U) << "a quote closed inside a cell is none";
}

}  // namespace
}  // namespace pitwright::logs
