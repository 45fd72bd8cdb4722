#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <ostream>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "report/call_json.h"
#include "report/call_text.h"
#include "samples/sample_calls.h"

// The pages under tests/golden/call are read by eye before they are committed. Remake them with
// UPDATE_GOLDEN=1 build/dev/app/report/report_test --gtest_filter='*CallGolden*'.

namespace pitwright::report {
namespace {

const std::filesystem::path golden = PITWRIGHT_SOURCE_DIR "/tests/golden/call";

std::vector<std::string> lines_of(std::istream&& in) {
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// The lines that differ, "-" as committed and "+" as now, with their numbers; empty where equal.
std::string difference_text(const std::vector<std::string>& kept,
                            const std::vector<std::string>& now) {
  std::string text;
  for (std::size_t i = 0; i < std::max(kept.size(), now.size()); ++i) {
    const auto* a = i < kept.size() ? &kept[i] : nullptr;
    const auto* b = i < now.size() ? &now[i] : nullptr;
    if (a != nullptr && b != nullptr && *a == *b) continue;
    if (a != nullptr) text += fmt::format("{:4} - {}\n", i + 1, *a);
    if (b != nullptr) text += fmt::format("{:4} + {}\n", i + 1, *b);
  }
  return text;
}

void expect_golden(const std::string& name, const std::string& now) {
  const auto path = golden / name;
  if (std::getenv("UPDATE_GOLDEN") != nullptr) std::ofstream(path) << now;
  ASSERT_TRUE(std::filesystem::exists(path)) << path << " is missing; make it with UPDATE_GOLDEN=1";
  const auto difference =
      difference_text(lines_of(std::ifstream(path)), lines_of(std::istringstream(now)));
  EXPECT_EQ(difference, "") << name << " changed; if it should, remake it with UPDATE_GOLDEN=1";
}

struct Sample {
  const char* name;
  samples::SampleCall (*make)();
};

std::ostream& operator<<(std::ostream& out, const Sample& sample) {
  return out << sample.name;
}

class CallGolden : public testing::TestWithParam<Sample> {};

TEST_P(CallGolden, PagesAndDocumentsStayAsTheyWereRead) {
  const auto sample = GetParam().make();
  for (const auto scale : {Scale::fahrenheit, Scale::celsius}) {
    const CallView view{sample.report, sample.burn, scale};
    const auto name = sample.name + (scale == Scale::fahrenheit ? "_F" : "_C");
    expect_golden(name + ".txt", call_text(view, scale == Scale::fahrenheit));
    expect_golden(name + ".json", call_json(view));
  }
}

INSTANTIATE_TEST_SUITE_P(Samples, CallGolden,
                         testing::Values(Sample{"tray_moved", &samples::tray_moved},
                                         Sample{"three_baffles", &samples::three_baffles}));

}  // namespace
}  // namespace pitwright::report
