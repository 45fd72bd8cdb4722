#include "sheet/show_sheet.h"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sheet/html.h"
#include "sheet/readings_csv.h"
#include "sheet/sections.h"
#include "sheet/share_picture.h"
#include "sheet/test_view.h"

// tests/golden/sheet/tray_moved.txt is read by eye before it is committed. Remake it with
// UPDATE_GOLDEN=1 build/dev/app/sheet/sheet_test --gtest_filter='*Golden*'.

namespace pitwright::sheet {
namespace {

using testing::HasSubstr;
using testing::Not;

/// What a person reads: no markup, scripts, styles, pictures or readings, no empty lines.
std::string text_of(std::string page) {
  for (const auto& [from, to] :
       {std::pair("<style", "</style>"), std::pair("<script", "</script>"),
        std::pair("<svg", "</svg>"), std::pair("<textarea", "</textarea>")})
    for (auto at = page.find(from); at != std::string::npos; at = page.find(from, at))
      page.erase(at, page.find(to, at) + std::string_view(to).size() - at);
  std::string text;
  bool in_tag = false;
  for (const char c : page) {
    if (c == '<') in_tag = true;
    if (!in_tag) text += c;
    if (c == '>') in_tag = false;
  }
  std::istringstream lines(text);
  std::string kept;
  for (std::string line; std::getline(lines, line);)
    if (line.find_first_not_of(' ') != std::string::npos) kept += line + "\n";
  return kept;
}

TEST(ShowSheet, GoldenTextIsAsReadByEye) {
  const std::filesystem::path path = PITWRIGHT_SOURCE_DIR "/tests/golden/sheet/tray_moved.txt";
  const auto now = text_of(show_sheet(test::sample_view()));
  if (std::getenv("UPDATE_GOLDEN") != nullptr) std::ofstream(path) << now;
  std::ifstream kept(path);
  ASSERT_TRUE(kept) << path << " is missing; make it with UPDATE_GOLDEN=1";
  std::stringstream was;
  was << kept.rdbuf();
  EXPECT_EQ(was.str(), now);
}

TEST(ShowSheet, LeavesOutPlaceAndNamesUnlessAsked) {
  const auto hidden = [](const Telling& telling) {
    auto burn = test::sample_view({.place = true, .names = true}).burn;
    burn.title = "Behind Mabel's bakery";
    burn.pit.name = "Ferry Bend hopper";
    burn.clock.timezone = "Europe/Vienna";
    burn.events.push_back({EventKind::note, 60.0, {}, "", "", "Otto leaned on the lid"});
    burn.probes.front().channel = "Otto's red probe";
    burn.pieces.push_back({"Otto's shoulder", "", {}, {}, {}, {}, "", "OK", "told Otto"});
    auto view = test::sample_view(telling);
    view.burn = burn_to_show(burn, telling);
    return show_sheet(view) + draw_share(view, ShareShape::square).svg;
  };
  for (const auto* secret : {"Mabel", "Ferry Bend", "Vienna", "Otto"})
    EXPECT_THAT(hidden({}), Not(HasSubstr(secret)));
  const auto place = hidden({.place = true});
  EXPECT_THAT(place, HasSubstr("Mabel"));
  EXPECT_THAT(place, HasSubstr("Ferry Bend"));
  EXPECT_THAT(place, HasSubstr("Vienna"));
  EXPECT_THAT(place, Not(HasSubstr("Otto")));
  const auto names = hidden({.names = true});
  EXPECT_THAT(names, HasSubstr("Otto's red probe"));
  EXPECT_THAT(names, Not(HasSubstr("Mabel")));
}

TEST(ShowSheet, NeverLetsANameBecomeMarkup) {
  const std::string hostile = "</script><script>alert(1)</script><img src=x onerror=alert(2)>\"'&";
  auto view = test::sample_view({.place = true, .names = true});
  view.burn.title = view.burn.pit.name = view.options.cooker = hostile;
  view.report.settings.front() = hostile;
  view.burn.stints.push_back({hostile, {{hostile, hostile}}, 0.0, 60.0});
  for (auto& probe : view.burn.probes) probe.channel = hostile;
  view.report.spots.front().spot = hostile;
  view.removals.front().spot = hostile;
  const auto page = show_sheet(view);
  EXPECT_THAT(page, Not(HasSubstr("<script>alert")));
  EXPECT_THAT(page, Not(HasSubstr("<img")));
  EXPECT_THAT(page, HasSubstr("\\u003c/script>"));
  EXPECT_THAT(page, HasSubstr("&lt;img"));
}

TEST(ShowSheet, HoldsEveryRemovalAsAChoiceAndAsACall) {
  const auto page = show_sheet(test::sample_view());
  EXPECT_THAT(page, HasSubstr("value=\"0\""));
  EXPECT_THAT(page, HasSubstr("value=\"1\""));
  EXPECT_THAT(page, HasSubstr("\"name\":\"left front\""));
  EXPECT_THAT(page, HasSubstr("\"name\":\"stint 4 (A)\""));
  EXPECT_THAT(page, HasSubstr("No call can be made: nothing is left."));
  EXPECT_THAT(page, HasSubstr("left-right, A → B: clear becomes not yet"));
}

TEST(ShowSheet, SaysWhichWordsStandAndWhichFall) {
  auto view = test::sample_view();
  view.removals.pop_back();
  EXPECT_THAT(removal_findings(view),
              testing::ElementsAre(
                  "Stands, whichever one spot or stint is left out: spread clear; front-back no "
                  "odds.",
                  "left-right is clear, but not without left front."));
}

TEST(ShowSheet, GivesTheSameBytesTwice) {
  EXPECT_EQ(show_sheet(test::sample_view()), show_sheet(test::sample_view()));
}

TEST(BurnToShow, KeepsEqualChannelsEqualAndOthersApart) {
  Burn burn;
  const auto add = [&](const std::string& channel, const std::string& spot, Role role = Role::air) {
    Probe probe;
    probe.channel = channel;
    probe.spot = spot;
    probe.role = role;
    burn.probes.push_back(probe);
  };
  add("x", "left");
  add("y", "right");
  add("y", "middle");  // moved
  add("d1", "", Role::dial);
  add("d2", "", Role::dial);
  const auto shown = burn_to_show(burn, {});
  EXPECT_EQ(shown.probes[0].channel, "left");
  EXPECT_EQ(shown.probes[1].channel, "thermometer 1");
  EXPECT_EQ(shown.probes[2].channel, "thermometer 1");
  EXPECT_EQ(shown.probes[3].channel, "dial");
  EXPECT_EQ(shown.probes[4].channel, "dial 2");
}

TEST(ReadingsCsv, HoldsTheFirstReadingOfEachStepAsLogged) {
  auto view = test::sample_view();
  view.burn.clock.zero.reset();
  view.burn.probes.resize(1);
  view.burn.probes.front().correction = TemperatureDelta::from_kelvins(5.0);
  const auto table = readings_of(view);
  EXPECT_EQ(table.csv, "seconds,set °F\n0,248\n10,249.8\n20,\n30,246.2\n");
  EXPECT_TRUE(table.thinned);
  EXPECT_EQ(table.rows, 4);
}

TEST(ReadingsCsv, TakesLongerStepsForLongBurns) {
  auto view = test::sample_view();
  view.burn.probes.front().readings.seconds.back() = 10.0 * 86400.0;
  const auto table = readings_of(view);
  EXPECT_GT(table.step_s, 10.0);
  EXPECT_LT(table.csv.size(), 700000U);
}

TEST(ReadingsCsv, NeverWritesACellThatASpreadsheetWouldRun) {
  EXPECT_EQ(csv_cell("=1+1"), "'=1+1");
  EXPECT_EQ(csv_cell("@a,b\"c"), "\"'@a,b\"\"c\"");
  EXPECT_EQ(csv_cell("L1 °F"), "L1 °F");
}

TEST(ScriptString, LeavesNothingThatCouldEndTheScript) {
  EXPECT_EQ(script_string("a</script>\"\n"), "\"a\\u003c/script>\\\"\\n\"");
  EXPECT_THAT(script_string("\xff"), Not(HasSubstr("\xff")));
}

TEST(SharePicture, IsOfItsSizeWithAndWithoutAMap) {
  const auto view = test::sample_view();
  const auto square = draw_share(view, ShareShape::square);
  EXPECT_EQ(square.width, 600.0);  // a PNG has two pixels a px
  EXPECT_EQ(square.height, 600.0);
  const auto wide = draw_share(view, ShareShape::wide);
  EXPECT_EQ(wide.width, 800.0);
  EXPECT_EQ(wide.height, 450.0);
  EXPECT_THAT(wide.svg, HasSubstr("level, A → B"));
  EXPECT_THAT(wide.svg, HasSubstr("pellet cooker"));
}

}  // namespace
}  // namespace pitwright::sheet
