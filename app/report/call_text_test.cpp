#include "report/call_text.h"

#include <algorithm>
#include <limits>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/call_json.h"
#include "report/call_table.h"
#include "report/text_width.h"
#include "samples/sample_calls.h"

namespace pitwright::report {
namespace {

using testing::HasSubstr;
using testing::Not;

TEST(CallText, FitsItsWidthInEveryScaleWithEveryName) {
  for (const auto& sample : samples::all_samples()) {
    for (const auto scale : {Scale::fahrenheit, Scale::celsius}) {
      std::istringstream page(call_text({sample.report, sample.burn, scale}, true));
      for (std::string line; std::getline(page, line);) {
        EXPECT_LE(display_width(line), page_width) << sample.name << ": " << line;
      }
    }
  }
}

TEST(CallText, NeverSpeaksOfFoodOrSafety) {
  for (const auto& sample : samples::all_samples()) {
    const auto page = call_text({sample.report, sample.burn, Scale::fahrenheit}, true);
    for (const auto* word : {"safe", "food", "meat", "done"}) {
      EXPECT_THAT(page, Not(HasSubstr(word))) << sample.name;
    }
  }
}

TEST(CallText, LeavesQuietSpotsOfACrowdOutOfTheChangesAndCountsThem) {
  const auto sample = samples::crowded_chamber();
  const CallView view{sample.report, sample.burn, Scale::fahrenheit};
  const auto brief = call_text(view, false);
  EXPECT_THAT(brief, HasSubstr("No odds, or muddled, at 64 spots; --explain lists them."));
  EXPECT_GT(std::ranges::count(call_text(view, true), '\n'),
            std::ranges::count(brief, '\n') + std::ptrdiff_t{3} * 64);
}

TEST(CallText, AlignsColumnsUnderWideNames) {
  const auto sample = samples::running_burn();
  std::istringstream table(call_table({sample.report, sample.burn, Scale::fahrenheit}, false));
  std::string line;
  std::vector<int> columns;
  while (std::getline(table, line)) {
    if (line.starts_with("links") || line.starts_with("左前")) {
      columns.push_back(display_width(line.substr(0, line.find('('))));
    }
  }
  ASSERT_EQ(columns.size(), 2U);
  EXPECT_EQ(columns[0], columns[1]);
}

TEST(CallJson, StaysJsonWhateverBytesANameHolds) {
  auto sample = samples::tray_moved();
  sample.report.spots[0].spot = "left\xff\x1b";
  sample.burn.title = "\xc3";
  EXPECT_THAT(call_json({sample.report, sample.burn, Scale::fahrenheit}),
              HasSubstr("\"spot\": \"left\uFFFD\uFFFD\""));
}

TEST(CallJson, PutsNullForWhatIsNoNumberAndNoMinusZero) {
  auto sample = samples::tray_moved();
  sample.report.level.changes[0].word_low = -std::numeric_limits<double>::infinity();
  sample.report.level.changes[0].estimate = call::Estimate{-1e-9, -1.0, 1.0};
  const auto text = call_json({sample.report, sample.burn, Scale::fahrenheit});
  EXPECT_THAT(text, HasSubstr("\"word_low\": null"));
  EXPECT_THAT(text, Not(HasSubstr("-0.0")));
}

}  // namespace
}  // namespace pitwright::report
