// What goes wrong in logs, read through read_log.
#include <gmock/gmock.h>

#include "logs/read_text_test.h"

namespace pitwright::logs {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsNan;
using namespace std::string_literals;

std::string utf16(const std::string& text, bool big_endian, bool mark) {
  std::string out = mark ? (big_endian ? "\xFE\xFF"s : "\xFF\xFE"s) : ""s;
  for (const char c : text) {
    if (big_endian) out += '\0';
    out += c;
    if (!big_endian) out += '\0';
  }
  return out;
}

TEST(Encodings, AreToldApart) {
  const std::string text = "time_s,Pit\n0,100.5\n1,101\n";
  for (const bool big : {false, true}) {
    for (const bool mark : {false, true}) {
      const auto log = log_of(utf16(text, big, mark));
      EXPECT_THAT(names_of(log), ElementsAre("Pit"));
      EXPECT_THAT(values_of(log, 0), ElementsAre(100.5, 101.0));
      EXPECT_TRUE(says(log, "UTF-16"));
    }
  }
  const auto marked = log_of("\xEF\xBB\xBF" + text);
  EXPECT_TRUE(says(marked, "UTF-8, with byte order mark"));
  EXPECT_THAT(names_of(marked), ElementsAre("Pit"));
  const auto latin = log_of(
      "time_s,K\xFC"
      "che (\xB0"
      "C)\n0,20\n1,21\n");
  EXPECT_THAT(names_of(latin), ElementsAre("K\xC3\xBC"
                                           "che (\xC2\xB0"
                                           "C)"));
  EXPECT_EQ(latin.channels[0].unit, ChannelUnit::celsius);
  EXPECT_TRUE(says(latin, "Latin-1"));
}

TEST(LineEnds, OfAllKindsAreRead) {
  for (const char* text :
       {"time_s,A\r\n0,1\r\n1,2\r\n", "time_s,A\r0,1\r1,2\r", "time_s,A\n0,1\n1,2",
        "time_s,A\r\n0,1\r\n1,2", "time_s,A\n\n0,1\n\n\n1,2\n\n"}) {
    const auto log = log_of(text);
    EXPECT_THAT(values_of(log, 0), ElementsAre(1.0, 2.0)) << text;
    EXPECT_EQ(log.rows, 2) << text;
    EXPECT_EQ(log.skipped_total, 0) << text;
  }
}

TEST(Missing, WordsAndCodesAreCounted) {
  std::string text = "time_s,A,B\n0,100,20\n";
  int n = 0;
  for (const char* word : {"", "NaN", "NA", "n/a", "null", "---", "LLL", "HHH", "Err", "open",
                           "-999", "-9999", "-999.9", "9999", "***", "#N/A", "Inf", "\"\""}) {
    text += fmt::format("{},{},20\n", ++n, word);
  }
  const auto log = log_of(text);
  EXPECT_EQ(log.channels[0].missing, n);
  EXPECT_EQ(log.channels[1].missing, 0);
  EXPECT_EQ(log.skipped_total, 0);
  EXPECT_THAT(log.channels[0].values.back(), IsNan());
  EXPECT_EQ(log.channels[0].ms.size(), static_cast<std::size_t>(n) + 1);
}

TEST(Missing, DoesNotTouchReadingsThatOnlyLookOdd) {
  const auto log = log_of("time_s,A\n0,1260.53\n1,-40\n2,0\n3,998\n4,1.0e2\n");
  EXPECT_THAT(values_of(log, 0), ElementsAre(1260.53, -40.0, 0.0, 998.0, 100.0));
}

TEST(Order, IsRestoredAndTheLaterOfTwoRowsWins) {
  const auto log = log_of("time_s,A,B\n0,1,10\n2,3,30\n1,2,20\n2,4,\n3,5,50\n");
  EXPECT_THAT(stamps_of(log), ElementsAre(0, 1000, 2000, 3000));
  EXPECT_THAT(values_of(log, 0), ElementsAre(1.0, 2.0, 4.0, 5.0));
  EXPECT_THAT(values_of(log, 1), ElementsAre(10.0, 20.0, 30.0, 50.0));
  EXPECT_EQ(log.out_of_order, 1);
  EXPECT_EQ(log.duplicates, 1);
  const auto table =
      log_of("time_s,channel,value\n0,A,1\n0,B,5\n2,A,3\n1,A,2\n2,A,4\n1,B,6\n0,B,7\n");
  EXPECT_THAT(values_of(table, 0), ElementsAre(1.0, 2.0, 4.0));
  EXPECT_THAT(values_of(table, 1), ElementsAre(7.0, 6.0));
  EXPECT_EQ(table.duplicates, 2);
  EXPECT_EQ(table.out_of_order, 3);
}

TEST(BadRows, CostThemselvesAndAreListed) {
  const auto log = log_of(
      "time_s,A,B\n0,1,2\n1,1.x,3\nlater,4,5\n3,6\n4,7,8,9\n5,10,11\ntime_s,A,B\n6,12,13\n7,14,"
      "15\n8,1,1\n9,1,1\n"
      "10,1,1\n11,1,1\n12,1,1\n13,1,1\n14,1,1\n15,1,1\n");
  EXPECT_EQ(log.rows, 17);
  EXPECT_EQ(log.rows_skipped, 4);
  EXPECT_EQ(log.skipped_total, 5);
  ASSERT_EQ(log.skipped.size(), 5U);
  EXPECT_EQ(log.skipped[0].line, 3);
  EXPECT_EQ(log.skipped[0].column, 2);
  EXPECT_EQ(log.skipped[0].reason, "'1.x' is not a number");
  EXPECT_EQ(log.skipped[1].line, 4);
  EXPECT_EQ(log.skipped[1].column, 1);
  EXPECT_EQ(log.skipped[2].reason, "2 cells where 3 are expected");
  EXPECT_EQ(log.skipped[2].column, 0);
  EXPECT_EQ(log.skipped[3].reason, "4 cells where 3 are expected");
  EXPECT_EQ(log.skipped[4].reason, "the header again");
  EXPECT_THAT(values_of(log, 1).at(1), 3.0);
}

TEST(BadRows, AboveTheFirstGoodOneAreNoHeader) {
  const auto log =
      log_of("time,A,B\n2026-05-0x,1,2\n2026-05-02T13:05:00Z,3,4\n2026-05-02T13:05:01Z,5,6\n");
  EXPECT_THAT(names_of(log), ElementsAre("A", "B"));
  EXPECT_EQ(log.rows_skipped, 1);
}

TEST(BadRows, AreCountedAllAndListedToAHundred) {
  std::string text = "time_s,A\n";
  for (int i = 0; i < 500; ++i) text += fmt::format("{},{}\n", i, i % 2 == 0 ? "20" : "x");
  const auto log = log_of(text);
  EXPECT_EQ(log.skipped_total, 250);
  EXPECT_EQ(log.skipped.size(), 100U);
}

TEST(BrokenBytes, CostTheirCellOrRow) {
  const auto log = log_of("time_s,A,B\n0,1,2\n1,\xFF\xFE,3\n2,4\0,5\n3\x80,6,7\n4,8,9\n5,1,1\n"s);
  EXPECT_EQ(log.rows, 6);
  EXPECT_EQ(log.rows_skipped, 1);
  EXPECT_EQ(log.skipped_total, 3);
  EXPECT_THAT(values_of(log, 1), ElementsAre(2.0, 3.0, 5.0, 9.0, 1.0));
  for (const auto& skipped : log.skipped) {
    EXPECT_EQ(skipped.reason.find('\0'), std::string::npos) << "NUL in a sentence for people";
  }
}

TEST(BrokenBytes, ALostQuoteCostsOnlyItsRow) {
  std::string text = "time_s,A,Note\n";
  for (int i = 0; i < 20; ++i) text += fmt::format("{},{},\"n, {}\"\n", i, 100 + i, i);
  auto broken = text;
  broken.replace(broken.find("\"n, 7\""), 6, "\"n, 7 ");
  broken.replace(broken.find("\"n, 11\""), 7, "\"n, 1\"1");
  const auto log = log_of(broken);
  EXPECT_EQ(log.channels[0].values.size(), 18U);
  const auto paired = log_of("time_s,A\n0,1\n1,\"2\n2,3\n3,4\"\n4,5\n5,6\n");
  EXPECT_THAT(stamps_of(paired), ElementsAre(0, 1000, 2000, 3000, 4000, 5000));
  EXPECT_EQ(paired.skipped_total, 2);
}

TEST(Errors, SayWhatIsWrongWithTheFile) {
  EXPECT_EQ(read_log("/nowhere/at/all.csv", {}).error().kind, ErrorKind::not_found);
  EXPECT_THAT(read_log(std::filesystem::temp_directory_path(), {}).error().what,
              HasSubstr("is a directory"));
  EXPECT_THAT(error_of(""), HasSubstr("the file is empty"));
  EXPECT_THAT(error_of("\x89PNG\r\n\x1a\n\0\0\0\rIHDR"s), HasSubstr("a PNG picture"));
  EXPECT_THAT(error_of("\x01\x02\x03\x04\x05\x06\x07\x08"s), HasSubstr("a binary file"));
  EXPECT_THAT(error_of("PK\x03\x04 and so on"s), HasSubstr("spreadsheet"));
  EXPECT_THAT(error_of("a letter to a friend\nwithout any numbers\n"), HasSubstr("nothing usable"));
  EXPECT_THAT(error_of("\n\n\n"), HasSubstr("not a table"));
  EXPECT_THAT(error_of("word\nword\n"), HasSubstr("not a table"));
  EXPECT_THAT(error_of("time,A\n"), HasSubstr("nothing usable"));
  EXPECT_THAT(error_of("time_s,A\n0,---\n1,---\n"), HasSubstr("every reading is missing"));
  EXPECT_THAT(error_of("time_s,A\n0,on\n1,off\n"),
              HasSubstr("no column beside the time holds numbers"));
}

TEST(LargeFiles, AreReadAcrossBlocksWithoutLoss) {
  // Over 4 MB: sixteen blocks; rows of uneven length so that blocks end everywhere in a row.
  std::string text = "time_s,A,Note\n";
  std::vector<double> expected;
  for (int i = 0; i < 200'000; ++i) {
    const double value = 100.0 + i % 1000 / 8.0;
    expected.push_back(value);
    text += fmt::format("{},{},{}\n", i, value, i % 7 == 0 ? "\"two\nlines\"" : "word");
  }
  const auto log = log_of(text);
  EXPECT_EQ(values_of(log, 0), expected);
  EXPECT_EQ(log.skipped_total, 0);
  const auto wide = log_of(utf16(text, false, true));
  EXPECT_EQ(values_of(wide, 0), expected);
}

}  // namespace
}  // namespace pitwright::logs
