#include "picture/lettering.h"

#include <memory>
#include <string>

#include <cairo.h>
#include <gtest/gtest.h>

namespace pitwright::picture {
namespace {

/// Advance of a text as cairo sets it in DejaVu Sans. Source: cairo 1.16 with FreeType.
double set_by_cairo(const std::string& text, double size, bool bold) {
  auto* surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 10, 10);
  auto* context = cairo_create(surface);
  cairo_select_font_face(context, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(context, size);
  auto* options = cairo_font_options_create();
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(context, options);
  cairo_text_extents_t extents;
  cairo_text_extents(context, text.c_str(), &extents);
  cairo_font_options_destroy(options);
  cairo_destroy(context);
  cairo_surface_destroy(surface);
  return extents.x_advance;
}

TEST(TextWidth, IsWhatCairoSets) {
  for (const std::string text : {"Where the heat lies", "+14", "−9", "level 240° (238 to 243)",
                                 "← cooler", "links außen", "A → B", "… ±10° × 3 · 4–5"}) {
    for (const bool bold : {false, true}) {
      // Kerning of a pair may take a hundredth of an em; the table knows none.
      const double tolerance = 0.02 * 100.0 * static_cast<double>(text.size()) / 4.0;
      EXPECT_NEAR(text_width(text, {100.0, bold}), set_by_cairo(text, 100.0, bold), tolerance)
          << text << (bold ? " bold" : "");
    }
  }
}

TEST(TextWidth, IsAnEmForSignsItDoesNotKnow) {
  EXPECT_DOUBLE_EQ(text_width("棚", {10.0}), 10.0);
  EXPECT_DOUBLE_EQ(text_width("ж", {10.0}), 10.0);
  EXPECT_DOUBLE_EQ(text_width("\xff", {10.0}), 10.0);
  EXPECT_DOUBLE_EQ(text_width("", {10.0}), 0.0);
}

TEST(TextLines, KeepToTheWidthAndLoseNoWord) {
  const Lettering letters{12.0};
  const std::string text = "Against A, B moves the heat 14° from left to right (11 to 17)";
  std::string again;
  for (const auto& line : text_lines(text, 120.0, letters)) {
    EXPECT_LE(text_width(line, letters), 120.0);
    again += (again.empty() ? "" : " ") + line;
  }
  EXPECT_EQ(again, text);
}

TEST(CutTo, EndsInDotsOnlyWhereItMust) {
  const Lettering letters{12.0};
  EXPECT_EQ(cut_to("left front", 200.0, letters), "left front");
  const auto cut = cut_to("left front of the upper shelf", 80.0, letters);
  EXPECT_TRUE(cut.ends_with("…"));
  EXPECT_LE(text_width(cut, letters), 80.0);
}

TEST(TextBox, FollowsItsAnchor) {
  const double width = text_width("abc", {10.0});
  EXPECT_DOUBLE_EQ(text_box("abc", {50, 50}, {10.0, false, Anchor::end}).right(), 50.0);
  EXPECT_DOUBLE_EQ(text_box("abc", {50, 50}, {10.0, false, Anchor::middle}).x, 50.0 - width / 2);
}

}  // namespace
}  // namespace pitwright::picture
