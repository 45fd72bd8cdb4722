// One snapshot a setting, as people write them down: it can tell nothing for sure.
// Common practice, no source: many published comparisons are one row of readings a setting.

#include <filesystem>
#include <fstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "burns/open_burn.h"
#include "call/call.h"
#include "report/sentence.h"

namespace pitwright::scenarios {
namespace {

using call::Word;

class OneRowASetting : public testing::Test {
 protected:
  void SetUp() override { std::filesystem::create_directories(folder_); }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  void write(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
  }

  /// A burn of three settings an hour apart, read once each; its log is `csv`.
  void expect_no_confident_word(const std::string& csv, bool with_places) const {
    write("rounds.csv", csv);
    std::string toml =
        "title = \"Three rounds\"\nunit = \"F\"\nlogs = \"rounds.csv\"\n"
        "[pit]\nwidth = \"30 in\"\n[[pit.grate]]\nname = \"grate\"\n";
    int x = 4;
    for (const char* spot : {"left", "middle", "right"}) {
      toml += "[[probe]]\nchannel = \"" + std::string(spot) + "\"\nspot = \"" + spot + "\"\n";
      if (with_places)
        toml += "grate = \"grate\"\ny = \"5 in\"\nx = \"" + std::to_string(x) + " in\"\n";
      x += 10;
    }
    for (const char* stint : {"A\"\nfrom = 2026-05-02T13:00:00", "B\"\nfrom = 2026-05-02T14:00:00",
                              "C\"\nfrom = 2026-05-02T15:00:00\nto = 2026-05-02T16:00:00"})
      toml += "[[stint]]\nsetting = \"" + std::string(stint) + "\n";
    write("burn.toml", toml);
    const auto opened = burns::open_burn(folder_);
    ASSERT_TRUE(opened) << opened.error().what;
    const auto report = call::make_call(opened->burn);
    ASSERT_TRUE(report) << report.error().what;
    int asked = 0;
    const auto look = [&](const call::Quantity& quantity, const std::string& name) {
      for (const auto& change : quantity.changes) {
        ++asked;
        EXPECT_TRUE(change.word == Word::not_yet || change.word == Word::muddled)
            << name << ": " << name_of(change.word);
      }
    };
    look(report->level, "level");
    look(report->spread, "spread");
    for (const auto& spot : report->spots) look(spot.runs, spot.spot);
    for (const auto& tilt : report->tilts) look(tilt.tilt, std::string(name_of(tilt.axis)));
    EXPECT_GE(asked, 3 * 5);  // three pairs of settings; level, spread, three spots at least
    EXPECT_FALSE(report::sentence({*report, opened->burn, Scale::fahrenheit}).empty());
  }

 private:
  std::filesystem::path folder_ =
      std::filesystem::temp_directory_path() / ("pitwright_one_row_" + std::to_string(::getpid()));
};

TEST_F(OneRowASetting, InAWideTableSaysNotYetOrMuddled) {
  const std::string csv =
      "time,left,middle,right\n2026-05-02 13:40,262,255,240\n"
      "2026-05-02 14:40,249,251,262\n2026-05-02 15:40,239,251,275\n";
  expect_no_confident_word(csv, true);
  expect_no_confident_word(csv, false);
}

TEST_F(OneRowASetting, InALongTableReadOneAfterTheOtherSaysNotYetOrMuddled) {
  std::string csv = "time,channel,value\n";
  const int values[3][3] = {{262, 255, 240}, {249, 251, 262}, {239, 251, 275}};
  const char* spots[3] = {"left", "middle", "right"};
  for (int row = 0; row < 3; ++row)
    for (int spot = 0; spot < 3; ++spot)  // a walk round the pit, a minute a spot
      csv += "2026-05-02 1" + std::to_string(3 + row) + ":4" + std::to_string(spot) + "," +
             spots[spot] + "," + std::to_string(values[row][spot]) + "\n";
  expect_no_confident_word(csv, true);
}

}  // namespace
}  // namespace pitwright::scenarios
