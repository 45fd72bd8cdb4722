#include "understood/understood.h"

#include <filesystem>
#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/text_width.h"

namespace pitwright::understood {
namespace {

namespace fs = std::filesystem;
using testing::Contains;
using testing::HasSubstr;
using testing::Not;

/// A burn of two logs with a bad row, a missing reading and a colorful name.
class Understood : public testing::Test {
 protected:
  Understood()
      : root_(fs::path(testing::TempDir()) /
              (std::string("understood_") +
               testing::UnitTest::GetInstance()->current_test_info()->name())) {
    fs::remove_all(root_);
    fs::create_directories(root_);
    write("a.csv",
          "Time,Left (F),Right (F)\n2026-05-02T12:00:00,250,260\n2026-05-02T12:01:00,251,---\n"
          "2026-05-02T12:02:00,252,warm\n2026-05-02T12:03:00,253,262\n");
    write("b.csv",
          "Time,B\x1b[31m1\n2026-05-02T12:00:30,121\n2026-05-02T12:01:30,122\n"
          "2026-05-02T12:03:30,123\n");
    document("channel = \"Left (F)\"");
  }
  ~Understood() override { fs::remove_all(root_); }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(root_ / name, std::ios::binary) << text;
  }
  void document(const std::string& probe) const {
    write("burn.toml",
          "unit = \"F\"\ntimezone = \"America/Chicago\"\nlogs = [\"a.csv\", \"b.csv\"]\n[[log]]\n"
          "file = \"b.csv\"\nunit = \"C\"\noffset = \"-20 s\"\noffset_uncertainty = \"5 s\"\n"
          "[[probe]]\n" +
              probe + "\n[[stint]]\nsetting = \"A\"\n");
  }

  fs::path root_;
};

TEST_F(Understood, ShowsLogsUnitsClocksAndSkips) {
  const auto view = of_burn(root_);
  ASSERT_TRUE(view) << view.error().what;
  EXPECT_FALSE(view->mistake);
  ASSERT_EQ(view->logs.size(), 2U);
  const auto& a = view->logs[0];
  EXPECT_EQ(a.rows, 4);
  EXPECT_EQ(a.skipped_total, 1);
  EXPECT_EQ(a.channels.at(0).unit_source, UnitSource::file);
  EXPECT_EQ(a.channels.at(0).readings, 4);
  EXPECT_EQ(a.channels.at(1).readings, 2);
  EXPECT_EQ(a.channels.at(1).missing, 1);
  const auto& b = view->logs[1];
  EXPECT_EQ(b.channels.at(0).unit_source, UnitSource::told);
  EXPECT_EQ(b.clock.value_or(burns::LogClock{}).offset_s, -20.0);
  EXPECT_EQ(b.first, "2026-05-02T12:00:10-05:00");
  const auto text = text_of(*view);
  EXPECT_THAT(text, HasSubstr("line 4, column 3: "));
  EXPECT_THAT(text, HasSubstr("-20 s added, give or take 5 s (by the stated offset)"));
  EXPECT_THAT(text, HasSubstr("C as told"));
}

TEST_F(Understood, LetsNoLogColorTheScreen) {
  const auto view = of_burn(root_);
  ASSERT_TRUE(view);
  EXPECT_THAT(text_of(*view), Not(HasSubstr("\x1b")));
  EXPECT_THAT(json_of(*view), Not(HasSubstr("\x1b")));
}

TEST_F(Understood, KeepsItsLinesWithinTheWidth) {
  const auto text = text_of(*of_burn(root_), 72);
  for (std::size_t at = 0; at < text.size();) {
    const auto end = text.find('\n', at);
    EXPECT_LE(report::display_width(text.substr(at, end - at)), 72) << text.substr(at, end - at);
    at = end + 1;
  }
}

TEST_F(Understood, ShowsTheLogsOfABurnThatCannotBePutTogether) {
  document("channel = \"Lft\"");
  const auto view = of_burn(root_);
  ASSERT_TRUE(view) << view.error().what;
  ASSERT_TRUE(view->mistake);
  EXPECT_THAT(view->mistake.value_or(Error{}).what, HasSubstr("no log has a channel 'Lft'"));
  EXPECT_EQ(view->logs.size(), 2U);
}

TEST_F(Understood, WorksOnBareLogs) {
  const std::vector paths{root_ / "a.csv"};
  const auto view = of_files(paths, {});
  ASSERT_TRUE(view) << view.error().what;
  EXPECT_FALSE(view->unit);
  EXPECT_FALSE(view->logs[0].clock);
  EXPECT_EQ(view->logs[0].first, "2026-05-02T12:00:00+00:00");
  EXPECT_THAT(text_of(*view), Not(HasSubstr("Assumed")));
}

}  // namespace
}  // namespace pitwright::understood
