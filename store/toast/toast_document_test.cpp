#include "toast/toast_document.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "toast/pixels.h"

namespace pitwright::toast {
namespace {

using testing::HasSubstr;

const std::string whole = R"(title = "Box"
unit = "C"
photo = "a.jpg"
slices = 24
light = "cards"
[grate]
width = "18 in"
depth = "38 cm"
left_back = [10, 20]
right_back = [110.5, 20]
right_front = [120, 90]
left_front = [0, 90]
[[card]]
corners = [[1, 2], [3, 2], [3, 4], [1, 4]]
[untoasted]
corners = [[1, 2], [3, 2], [3, 4], [1, 4]]
[[probe]]
spot = "left"
x = "4 in"
y = "10 cm"
reading = 180
uncertainty = "2 K"
)";

std::string mistake(const std::string& text) {
  const auto document = parse_toast(text, "dir/toast.toml");
  return document ? "none" : document.error().what;
}

std::string with(const std::string& from, const std::string& to) {
  auto text = whole;
  return text.replace(text.find(from), from.size(), to);
}

TEST(ToastDocument, IsReadWhole) {
  const auto document = parse_toast(whole, "dir/toast.toml");
  ASSERT_TRUE(document) << document.error().what;
  EXPECT_EQ(document->photo, "dir/a.jpg");
  EXPECT_EQ(document->slices, 24);
  EXPECT_EQ(document->scene.light, photo::LightFrom::cards);
  EXPECT_NEAR(document->scene.width_m, 0.4572, 1e-12);
  EXPECT_DOUBLE_EQ(document->scene.grate[1].x, 110.5);
  EXPECT_DOUBLE_EQ(document->scene.cards[0].reflectance, 0.18);
  EXPECT_TRUE(document->scene.untoasted);
  EXPECT_DOUBLE_EQ(document->probes[0].heat_c, 180.0);
  EXPECT_NEAR(document->probes[0].sd_k, 2.0 / 1.959964, 1e-6);
}

TEST(ToastDocument, SaysWhereAndWhatIsWrong) {
  EXPECT_THAT(mistake(with("photo =", "foto =")), HasSubstr("toast.toml:3:1"));
  EXPECT_THAT(mistake(with("[10, 20]", "[10]")), HasSubstr("'left_back' expects pixels"));
  EXPECT_THAT(mistake(with("[[1, 2], [3, 2], [3, 4], [1, 4]]", "[[1, 2]]")),
              HasSubstr("four corners"));
  EXPECT_THAT(mistake(with("\"18 in\"", "\"18 m\"")), HasSubstr("between 10 cm and 5 m"));
  EXPECT_THAT(mistake(with("slices = 24", "slices = 2.5")), HasSubstr("how many were laid out"));
  EXPECT_THAT(mistake(with("\"cards\"", "\"card\"")), HasSubstr("light"));
  EXPECT_THAT(mistake(with("\"2 K\"", "\"-2 K\"")), HasSubstr("above zero"));
  EXPECT_THAT(mistake(with("[[card]]", "[[card]]\nreflectance = 18")), HasSubstr("0.02 and 0.95"));
  EXPECT_THAT(mistake(with("[[card]]\n", "[other]\n")), HasSubstr("other"));
  EXPECT_THAT(mistake(with("slices = 24", "raw = 20")), HasSubstr("burnt the lower one"));
}

TEST(ToastDocument, TakesAtMostTwentyFourProbes) {
  auto text = whole;
  for (int i = 0; i < 24; ++i)
    text += "[[probe]]\nspot = \"p\"\nx = \"1 in\"\ny = \"1 in\"\nreading = 180\n";
  EXPECT_THAT(mistake(text), HasSubstr("more than 24 probes"));
}

TEST(ParseQuad, TakesEightNumbersOnly) {
  const auto quad = parse_quad("165,194 750,151 846,518 143.5,580");
  ASSERT_TRUE(quad);
  EXPECT_DOUBLE_EQ((*quad)[3].x, 143.5);
  EXPECT_FALSE(parse_quad("1,2 3,4 5,6"));
  EXPECT_FALSE(parse_quad("1,2 3,4 5,6 7,x"));
  EXPECT_FALSE(parse_quad(""));
}

}  // namespace
}  // namespace pitwright::toast
