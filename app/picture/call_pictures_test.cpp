#include <cmath>

#include <gtest/gtest.h>

#include "picture/changes_picture.h"
#include "picture/strip_picture.h"
#include "picture/test_svg.h"
#include "samples/sample_calls.h"
#include "samples/sample_parts.h"

namespace pitwright::picture {
namespace {

/// A burn whose level swings by 10 K about 120 degC, 8 K hotter in the middle stints.
samples::SampleCall swinging_burn() {
  auto sample = samples::tray_moved();
  for (auto& probe : sample.burn.probes) {
    if (probe.role == Role::set) continue;
    for (double s = 0.0; s <= 175 * 60.0; s += 10.0) {
      const bool middle = s >= 70 * 60.0 && s < 140 * 60.0;
      probe.readings.seconds.push_back(s);
      probe.readings.values.push_back(120.0 + (middle ? 8.0 : 0.0) +
                                      5.0 * std::sin(s * 2.0 * M_PI / 270.0) + 10.0 * *probe.x_m);
    }
  }
  for (const auto& stint : sample.report.stints) {
    sample.burn.stints.push_back({stint.setting == 0 ? "A" : "B", {}, stint.from_s, stint.to_s});
  }
  sample.burn.events = {{EventKind::lid, 6600.0, 6700.0, "", "", ""},
                        {EventKind::note, 7000.0, {}, "", "", "gust <strong> & \"cold\""}};
  return sample;
}

TEST(ChangesPicture, EverySampleIsSoundOnBothPages) {
  for (const auto& sample : samples::all_samples()) {
    if (sample.name == "crowded_chamber") continue;  // below
    for (const auto scale : {Scale::fahrenheit, Scale::celsius}) {
      const report::CallView view{sample.report, sample.burn, scale};
      test::expect_sound(draw_changes(view, Page::wide), sample.name + " wide");
      test::expect_sound(draw_changes(view, Page::narrow), sample.name + " narrow");
      test::expect_sound(draw_changes(view, Page::column, "c", Head::left_out),
                         sample.name + " column", smallest_in_column);
    }
  }
}

TEST(ChangesPicture, PrintsNumbersRangesAndWords) {
  const auto sample = samples::tray_moved();
  const report::CallView view{sample.report, sample.burn, Scale::fahrenheit};
  for (const auto page : {Page::wide, Page::narrow}) {
    const auto document = test::parsed(draw_changes(view, page).svg);
    for (const auto* text : {"−9 (−11 to −7)", "+17 (15 to 19)", "clear", "not yet, 2 more",
                             "left front", "toward the right", "no odds"}) {
      EXPECT_TRUE(test::has_text(document, text)) << text;
    }
  }
}

TEST(ChangesPicture, DotsStandWhereTheScaleSays) {
  const auto sample = samples::tray_moved();
  const report::CallView view{sample.report, sample.burn, Scale::fahrenheit};
  const auto document = test::parsed(draw_changes(view, Page::wide).svg);
  double zero = 0.0, ten = 0.0;
  for (const auto& text : test::all_of(document, "text")) {
    if (text.text == "0 °F") zero = text.number("x");
    if (text.text == "+10") ten = text.number("x");
  }
  ASSERT_LT(zero, ten);
  double value = NAN;
  for (const auto& element : document.elements) {
    if (element.name == "g")
      value = element.get("data-value").empty() ? NAN : element.number("data-value");
    if (element.name == "circle" && std::isfinite(value)) {
      EXPECT_NEAR((element.number("cx") - zero) / (ten - zero) * 10.0, value, 0.05);
    }
    if (!element.get("data-matters").empty()) {
      EXPECT_NEAR(element.number("width"), 2.0 * (ten - zero), 0.1);  // +-10 °F
    }
  }
}

TEST(ChangesPicture, SharesOneScaleAmongPairs) {
  const auto sample = samples::three_baffles();
  const report::CallView view{sample.report, sample.burn, Scale::fahrenheit};
  const auto document = test::parsed(draw_changes(view, Page::wide).svg);
  std::vector<double> zeros;
  for (const auto& text : test::all_of(document, "text")) {
    if (text.text == "0 °F") zeros.push_back(text.number("x"));
  }
  ASSERT_EQ(zeros.size(), 3U);
  EXPECT_EQ(zeros[0], zeros[1]);
  EXPECT_EQ(zeros[1], zeros[2]);
}

TEST(ChangesPicture, SaysSoWhereThereIsNoChange) {
  const auto sample = samples::one_position();
  const report::CallView view{sample.report, sample.burn, Scale::celsius};
  EXPECT_TRUE(test::has_text(test::parsed(draw_changes(view, Page::narrow).svg), "no change to"));
}

TEST(StripPicture, EverySampleIsSoundOnBothPages) {
  auto all = samples::all_samples();
  all.push_back(swinging_burn());
  for (const auto& sample : all) {
    const auto strip = strip_of({sample.report, sample.burn, Scale::fahrenheit});
    test::expect_sound(draw_strip(strip, Page::wide), sample.name + " wide");
    test::expect_sound(draw_strip(strip, Page::narrow), sample.name + " narrow");
    test::expect_sound(draw_strip(strip, Page::column, "c", Head::left_out),
                       sample.name + " column", smallest_in_column);
  }
}

TEST(StripPicture, MeansAreOfWhatCountsAndTheSwingKeepsItsSize) {
  const auto sample = swinging_burn();
  const auto strip = strip_of({sample.report, sample.burn, Scale::celsius});
  ASSERT_EQ(strip.stints.size(), 4U);
  // Left and right spots lie 0.46 m apart about 0.33 m: 3.3 K over 120 degC. A window of 18 min is
  // four swings of 270 s; the shift of the middle stints is 8 K.
  const double expected[] = {123.3, 131.3, 131.3, 123.3};
  for (std::size_t k = 0; k < 4; ++k) {
    ASSERT_TRUE(strip.stints[k].mean_c);
    EXPECT_NEAR(*strip.stints[k].mean_c, expected[k], 0.3);
  }
  const auto document = test::parsed(draw_strip(strip, Page::wide).svg);
  for (const auto* text : {"123°", "131°", "A", "B", "lid", "gust <strong> & \"cold\""}) {
    EXPECT_TRUE(test::has_text(document, text)) << text;
  }
  bool has_curve = false;
  for (const auto& path : test::all_of(document, "path")) {
    has_curve = has_curve || path.get("id") == "strip-level";
  }
  EXPECT_TRUE(has_curve);
}

TEST(StripPicture, PrintsRoundTimesOfDay) {
  const auto sample = swinging_burn();  // begins at 13:00 on its own wall clock
  const auto strip = strip_of({sample.report, sample.burn, Scale::celsius});
  ASSERT_FALSE(strip.clock.empty());
  EXPECT_EQ(strip.clock.front().text, "13:00");
  EXPECT_EQ(strip.clock[1].text, "13:15");
}

TEST(StripPicture, ALiveStripEndsAtItsMoment) {
  auto sample = swinging_burn();
  sample.report.live = call::Live{};
  sample.report.live->as_known_at_s = 6000.0;
  const auto strip = strip_of({sample.report, sample.burn, Scale::celsius});
  EXPECT_EQ(strip.to_s, 6000.0);
  EXPECT_LE(strip.seconds.back(), 6000.0);
  EXPECT_TRUE(strip.events.empty());
}

}  // namespace
}  // namespace pitwright::picture
