#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

#include <gtest/gtest.h>

#include "rehearsal/burn_files.h"
#include "rehearsal/pit_file.h"
#include "rehearsal/toml_text.h"

namespace pitwright::rehearsal {
namespace {

namespace fs = std::filesystem;

/// A directory of its own for each test, gone afterwards.
class Rehearsal : public testing::Test {
 protected:
  void SetUp() override {
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    folder = fs::temp_directory_path() / (std::string("pitwright_") + test->name());
    fs::remove_all(folder);
    fs::create_directories(folder);
  }
  void TearDown() override { fs::remove_all(folder); }

  fs::path write(const std::string& name, const std::string& text) const {
    std::ofstream(folder / name) << text;
    return folder / name;
  }
  std::string mistake_of(const std::string& text) const {
    const auto read = read_pit_file(write("pit.toml", text), 1);
    return read ? "no mistake" : read.error().what.substr(folder.string().size() + 1);
  }

  fs::path folder;
};

bool same_values(const std::vector<double>& a, const std::vector<double>& b) {
  return std::ranges::equal(
      a, b, [](double x, double y) { return x == y || (std::isnan(x) && std::isnan(y)); });
}

TEST_F(Rehearsal, EveryBuiltInPitBurnsTheSameFromItsFile) {
  for (const auto& name : rehearse::scenario_names()) {
    const auto built_in = rehearse::make_scenario(name.id);
    ASSERT_TRUE(built_in);
    const auto path = write("pit.toml", pit_file_text(*built_in, Scale::fahrenheit));
    const auto read = read_pit_file(path, 1);
    ASSERT_TRUE(read) << name.id << ": " << read.error().what;
    const auto a = rehearse::rehearse(*built_in, 6, {.with_truth = false});
    const auto b = rehearse::rehearse(*read, 6, {.with_truth = false});
    ASSERT_TRUE(a && b);
    ASSERT_EQ(a->burn.probes.size(), b->burn.probes.size()) << name.id;
    for (std::size_t i = 0; i < a->burn.probes.size(); ++i)
      EXPECT_TRUE(same_values(a->burn.probes[i].readings.values, b->burn.probes[i].readings.values))
          << name.id << ' ' << a->burn.probes[i].channel;
    EXPECT_EQ(a->burn.stints.size(), b->burn.stints.size());
    EXPECT_EQ(a->burn.events.size(), b->burn.events.size());
  }
}

TEST_F(Rehearsal, AnOrdinaryPitBurnsWithEffectsOfItsSeed) {
  const auto path = write("pit.toml",
                          "name = \"Barrel\"\nset_point = \"300 F\"\nwidth = \"36 in\"\n"
                          "[[grate]]\nname = \"low\"\nheight = \"6 in\"\n"
                          "[[grate]]\nname = \"high\"\nheight = \"12 in\"\n"
                          "[[adjustment]]\nname = \"damper\"\npositions = [\"shut\", \"open\"]\n");
  const auto one = read_pit_file(path, 1), again = read_pit_file(path, 1),
             two = read_pit_file(path, 2);
  ASSERT_TRUE(one && again && two);
  EXPECT_EQ(one->model.spots.size(), 6u);
  EXPECT_EQ(one->model.settings[1].name, "open");
  EXPECT_EQ(one->plan.stints.size(), 4u);
  EXPECT_EQ(one->model.settings[0].lean_k, again->model.settings[0].lean_k);
  EXPECT_NE(one->model.settings[0].lean_k, two->model.settings[0].lean_k);
  const auto made = rehearse::rehearse(*one, 1);
  ASSERT_TRUE(made);
  EXPECT_NEAR(made->truth.settings[0].dial_c, degF(300).celsius(), 2);
}

TEST_F(Rehearsal, LevelsAndRunsAskedForAreHit) {
  const auto path =
      write("pit.toml",
            "set_point = \"250 F\"\n"
            "[rehearse]\nplan = \"A B\"\ndwell = \"20 min\"\n"
            "[[rehearse.spot]]\nname = \"l\"\nx_m = 0.1\n"
            "[[rehearse.spot]]\nname = \"r\"\nx_m = 0.6\n"
            "[[rehearse.setting]]\nname = \"A\"\nlevel = \"250 F\"\nruns = [\"5 F\", \"-5 F\"]\n"
            "[[rehearse.setting]]\nname = \"B\"\nlevel = \"258 F\"\nruns = [\"-1 F\", \"1 F\"]\n");
  const auto read = read_pit_file(path, 1);
  ASSERT_TRUE(read) << read.error().what;
  const auto truth = rehearse::truth_of(read->model);
  EXPECT_NEAR(degC(truth.at("B").level_c).fahrenheit(), 258, 0.1);
  EXPECT_NEAR(truth.at("A").run_k[0] * 1.8, 5, 0.1);
  EXPECT_EQ(read->plan.stints[1].dwell_s, 1200);
}

TEST_F(Rehearsal, MistakesNameLineColumnAndTheNearestKey) {
  EXPECT_EQ(mistake_of("[rehearse.body]\nwall_jk = 3\n").substr(0, 13), "pit.toml:2:1:");
  EXPECT_NE(mistake_of("[rehearse.body]\nwall_jk = 3\n").find("wall_j_k"), std::string::npos);
  EXPECT_NE(mistake_of("[rehearse.body]\nwall_j_k = \"3\"\n").find("bare number"),
            std::string::npos);
  EXPECT_NE(mistake_of("[rehearse.fire]\nkind = \"atomic\"\n").find("relay"), std::string::npos);
  EXPECT_NE(mistake_of("rehearse = 3\n").find("[rehearse]"), std::string::npos);
  EXPECT_NE(mistake_of("[[rehearse.setting]]\nname = \"A\"\nlean_k = [1]\n").find("3 spots"),
            std::string::npos);
  EXPECT_NE(mistake_of("[rehearse.body]\nair_j_k = -4\n").find("must lie between"),
            std::string::npos);
  EXPECT_NE(mistake_of("[[rehearse.logger]]\n[[rehearse.logger.thermometer]]\nchannel = \"x\"\n"
                       "spot = \"nowhere\"\n")
                .find("no spot 'nowhere'"),
            std::string::npos);
}

TEST_F(Rehearsal, ABurnDirectoryHoldsDocumentPitLogsAndTruth) {
  const auto scenario = rehearse::make_scenario("S6");
  ASSERT_TRUE(scenario);
  const auto made = rehearse::rehearse(*scenario, 1);
  ASSERT_TRUE(made);
  ASSERT_TRUE(write_burn(folder / "burn", *made, {.truth = true, .seed = 1}));
  for (const auto* file : {"burn.toml", "pit.toml", "box.csv", "stick.csv", "truth.json"})
    EXPECT_GT(fs::file_size(folder / "burn" / file), 100u) << file;
}

TEST_F(Rehearsal, LogsCarryWordsRoundingAndTheLoggersOwnClock) {
  const auto scenario = rehearse::make_scenario("S7");
  ASSERT_TRUE(scenario);
  const auto made = rehearse::rehearse(*scenario, 1, {.with_truth = false});
  ASSERT_TRUE(made);
  const auto csv = log_csv(made->logs[0], {});
  EXPECT_EQ(csv.substr(0, csv.find('\n')), "time,P1,P2,P3,P4,P5,dial");
  EXPECT_NE(csv.find(",-999,"), std::string::npos);
  EXPECT_NE(csv.find(",LLL,"), std::string::npos);
  EXPECT_EQ(csv.find("nan"), std::string::npos);

  const auto drum = rehearse::make_scenario("S6");
  ASSERT_TRUE(drum);
  const auto two = rehearse::rehearse(*drum, 1, {.with_truth = false});
  ASSERT_TRUE(two);
  // Noon in Chicago is 18:00 in Lisbon in May; and this clock is 7 min 20 s ahead.
  const auto stick = log_csv(two->logs[1], {});
  EXPECT_EQ(stick.substr(stick.find('\n') + 1, 19), "2026-05-02T18:07:20");
}

TEST(TomlText, QuotesWhatTomlMustNotSeeBare) {
  EXPECT_EQ(toml_string("a \"b\" \\ c\n"), "\"a \\\"b\\\" \\\\ c\\u000a\"");
  EXPECT_EQ(toml_list({"a", "b"}), "[\"a\", \"b\"]");
  EXPECT_EQ(length_text(0.28), "\"28 cm\"");
}

TEST(TomlText, LocalTimesFollowTheZone) {
  const Instant noon{std::chrono::milliseconds{1777741200000}};
  EXPECT_EQ(local_time(noon, "America/Chicago"), "2026-05-02T12:00:00");
  EXPECT_EQ(local_time(noon, ""), "2026-05-02T17:00:00");
  EXPECT_EQ(local_time(noon + std::chrono::milliseconds{100}, ""), "2026-05-02T17:00:00.100");
}

}  // namespace
}  // namespace pitwright::rehearsal
