#include "picture/svg.h"

#include <gtest/gtest.h>

#include "base/expects.h"
#include "picture/test_svg.h"

namespace pitwright::picture {
namespace {

TEST(Px, KeepsTwoDecimalsAndNoMore) {
  EXPECT_EQ(px(12.0), "12");
  EXPECT_EQ(px(12.346), "12.35");
  EXPECT_EQ(px(-0.001), "0");
  EXPECT_EQ(px(-3.5), "-3.5");
  EXPECT_EQ(px(100.0), "100");
}

TEST(Px, RefusesWhatIsNoPlace) {
  EXPECT_THROW(px(NAN), ContractError);
}

TEST(Escaped, LeavesNoMarkupAndNoControls) {
  EXPECT_EQ(escaped("a<b> & \"c\""), "a&lt;b&gt; &amp; &quot;c&quot;");
  EXPECT_EQ(escaped("x\x1b[2Jy"), "x\xEF\xBF\xBD[2Jy");
  EXPECT_EQ(escaped("\xff"), "\xEF\xBF\xBD");
}

TEST(Svg, WhatIsWrittenIsRead) {
  Svg svg;
  svg.open("g", {{"data-spot", "a<b>&\"c\""}});
  put_text(svg, "5 < 6 & 7", {1, 2}, {});
  svg.close();
  const auto document = test::parsed(svg.finish("p", 10, 20, "t<", "d&").svg);
  ASSERT_EQ(document.error, "");
  EXPECT_EQ(test::all_of(document, "g").front().get("data-spot"), "a<b>&\"c\"");
  EXPECT_EQ(test::all_of(document, "text").front().text, "5 < 6 & 7");
  EXPECT_EQ(test::all_of(document, "title").front().text, "t<");
  EXPECT_EQ(document.elements.front().get("viewBox"), "0 0 10 20");
}

TEST(Svg, IsNotFinishedWhileSomethingIsOpen) {
  Svg svg;
  svg.open("g");
  EXPECT_THROW(svg.finish("p", 1, 1, "t", "d"), ContractError);
}

TEST(Overlap, TouchingIsNotOverlapping) {
  EXPECT_FALSE(overlap({0, 0, 1, 1}, {1, 0, 1, 1}));
  EXPECT_TRUE(overlap({0, 0, 1, 1}, {0.9, 0.9, 1, 1}));
}

}  // namespace
}  // namespace pitwright::picture
