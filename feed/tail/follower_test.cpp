#include "tail/follower.h"

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "tail/table_lines.h"

namespace pitwright::feed {
namespace {

namespace fs = std::filesystem;

/// A folder of its own with one growing file.
class Growing : public testing::Test {
 protected:
  Growing() { fs::create_directories(folder); }
  ~Growing() override { fs::remove_all(folder); }
  void write(const std::string& text) const { std::ofstream(file, std::ios::app) << text; }
  static std::string next(Follower& follower) {
    const auto lines = follower.lines();
    return lines ? (lines->from_start ? "|" : "") + lines->text : "error";
  }
  fs::path folder = fs::temp_directory_path() / ("follow-" + std::to_string(::getpid()));
  fs::path file = folder / "pit.csv";
};

TEST_F(Growing, GivesALineOnceItIsEnded) {
  Follower follower(file);
  EXPECT_EQ(next(follower), "error") << "not there yet";
  write("a,b\n1,");
  EXPECT_EQ(next(follower), "|a,b\n");
  EXPECT_EQ(next(follower), "");
  write("2\n3");
  EXPECT_EQ(next(follower), "1,2\n");
  write(",4\n");
  EXPECT_EQ(next(follower), "3,4\n");
}

TEST_F(Growing, ReadsTheRestOfARotatedFileThenTheNewOne) {
  Follower follower(file);
  write("h\n1\n");
  EXPECT_EQ(next(follower), "|h\n1\n");
  write("2\nopen");
  fs::rename(file, folder / "pit.csv.1");
  write("h\n3\n");
  EXPECT_EQ(next(follower), "2\nopen\n") << "nobody will end that line";
  EXPECT_EQ(next(follower), "|h\n3\n");
}

TEST_F(Growing, BeginsAgainWhereTheFileWasCutOrWrittenAnew) {
  Follower follower(file);
  write("h\n1\n2\n");
  next(follower);
  follower.place();
  fs::resize_file(file, 0);
  write("h\n3\n");
  EXPECT_EQ(next(follower), "|h\n3\n");
  follower.place();
  fs::resize_file(file, 0);
  write("h,x\n1,2\n3,4\n5,6\n");  // longer than before: only its beginning tells
  EXPECT_EQ(next(follower), "|h,x\n1,2\n3,4\n5,6\n");
}

TEST_F(Growing, GoesOnWhereItWasAlsoInAFileRenamedMeanwhile) {
  write("h\n1\n");
  FilePlace place;
  {
    Follower follower(file);
    next(follower);
    place = follower.place();
    ASSERT_TRUE(save_place(folder / "place", place));
  }
  write("2\n");
  {
    Follower follower(file);
    follower.resume(load_place(folder / "place").value());
    EXPECT_EQ(next(follower), "2\n");
  }
  fs::rename(file, folder / "pit.csv.1");
  write("h\n3\n");
  {
    Follower follower(file);
    follower.resume(place);
    EXPECT_EQ(next(follower), "2\n");
    EXPECT_EQ(next(follower), "|h\n3\n");
  }
  fs::remove(folder / "pit.csv.1");
  Follower follower(file);
  follower.resume(place);
  EXPECT_EQ(next(follower), "|h\n3\n");
  EXPECT_FALSE(load_place(folder / "none"));
}

struct Table {
  std::vector<std::string> said;
  Troubles troubles{[this](const std::string& line) { said.push_back(line); }};
  TableLines lines;
  Table() : lines("log", celsius(), troubles) {}
  static logs::Hints celsius() {
    logs::Hints hints;
    hints.unit = "C";
    return hints;
  }

  std::string read(std::string_view text) {
    std::vector<Reading> readings;
    const auto read = lines.read(text, readings);
    if (!read) return read.error().what;
    std::string out;
    for (const auto& r : readings) {
      out += r.channel + "=" + std::to_string(static_cast<int>(r.value)) + "@" +
             std::to_string(r.at.time_since_epoch().count() / 1'000'000 - 1777741200) + " ";
    }
    return out;
  }
};

TEST(TableLines, ReadsATableThatGrowsRowsAndColumns) {
  Table table;
  EXPECT_EQ(table.read("time,A,B\n"), "");
  EXPECT_EQ(
      table.read("2026-05-02T17:00:00Z,1,2\n2026-05-02T17:00:01Z,3,4\n2026-05-02T17:00:02Z,5,6\n"),
      "A=1@0 B=2@0 A=3@1 B=4@1 A=5@2 B=6@2 ");
  EXPECT_EQ(
      table.read("2026-05-02T17:00:03Z,7,x\ntime,A,B\nrubbish,1,2\n2026-05-02T17:00:04Z,8,\n"),
      "A=7@3 A=8@4 ");
  EXPECT_EQ(table.read("2026-05-02T17:00:05Z,9,10,11\n"), "A=9@5 B=10@5 4=11@5 ");
  EXPECT_EQ(table.read("time,A,B,C\n2026-05-02T17:00:06Z,1,2,3\n2026-05-02T17:00:07Z,1,2,3\n"), "");
  EXPECT_TRUE(table.lines.new_table());
  EXPECT_EQ(table.read("2026-05-02T17:00:08Z,1,2,3\n"),
            "A=1@6 B=2@6 C=3@6 A=1@7 B=2@7 C=3@7 A=1@8 B=2@8 C=3@8 ");
}

TEST(TableLines, ReadsLongTablesAndUnitsOfTheHeader) {
  Table table;
  EXPECT_EQ(
      table.read(
          "time;name;value;unit\n2026-05-02T17:00:00Z;A;212,0;F\n2026-05-02T17:00:00Z;B;20,5;C\n"
          "2026-05-02T17:00:01Z;A;32,0;F\n2026-05-02T17:00:01Z;B;21,5;C\n"),
      "A=100@0 B=20@0 A=0@1 B=21@1 ");
}

TEST(TableLines, AsksForWhatOnlyAPersonKnows) {
  EXPECT_THAT(
      Table().read("time,A\n01/02/2026 10:00:00,1\n01/02/2026 10:00:01,1\n01/02/2026 10:00:02,1\n"),
      testing::HasSubstr("day-first"));
  EXPECT_THAT(Table().read("seconds,A\n0,1\n1,1\n2,1\n3,1\n"), testing::HasSubstr("zero"));
}

}  // namespace
}  // namespace pitwright::feed
