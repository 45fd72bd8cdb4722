#include "picture/word_mark.h"

#include "picture/axis.h"
#include "picture/colors.h"

namespace pitwright::picture {
namespace {

void put_circle(Svg& svg, Point at, std::string_view fill, std::string_view stroke, double width,
                std::string_view dashes = {}) {
  Attributes circle = {{"cx", px(at.x)},
                       {"cy", px(at.y)},
                       {"r", "6"},
                       {"fill", std::string(fill)},
                       {"stroke", std::string(stroke)},
                       {"stroke-width", px(width)}};
  if (!dashes.empty()) circle.emplace_back("stroke-dasharray", dashes);
  svg.leaf("circle", circle);
}

}  // namespace

void put_word_mark(Svg& svg, call::Word word, Point at, double value) {
  const auto color =
      value > 0.0 ? std::string_view("#c25e00") : (value < 0.0 ? std::string_view("#14508f") : ink);
  constexpr double half = 5.0;
  switch (word) {
    case call::Word::clear:
      put_circle(svg, at, color, paper, 1.5);
      break;
    case call::Word::no_odds:
      svg.leaf("rect", {{"x", px(at.x - half)},
                        {"y", px(at.y - half)},
                        {"width", px(2 * half)},
                        {"height", px(2 * half)},
                        {"fill", std::string(soft_ink)},
                        {"stroke", std::string(paper)},
                        {"stroke-width", "1.5"}});
      break;
    case call::Word::too_close:
      put_circle(svg, at, paper, color, 3.5);
      break;
    case call::Word::not_yet:
      put_circle(svg, at, paper, color, 2.0, "3 2");
      break;
    case call::Word::muddled:
      put_circle(svg, at, paper, paper, 1.0);
      put_line(svg, {at.x - half, at.y - half}, {at.x + half, at.y + half}, {ink, 2.5});
      put_line(svg, {at.x - half, at.y + half}, {at.x + half, at.y - half}, {ink, 2.5});
      break;
  }
}

}  // namespace pitwright::picture
