#include "picture/page.h"

#include <cmath>

namespace pitwright::picture {

Sizes sizes_of(Page page) {
  if (page == Page::wide) return {1200, 36, 26, 18, 14.5, 12};
  if (page == Page::column) return {720, 4, 17, 13.5, 11.5, 9.5};
  return {390, 16, 20, 17, 13, 11.5};
}

double put_titles(Svg& svg, const Sizes& sizes, std::string_view title, std::string_view under,
                  std::string_view sentence) {
  double y = sizes.margin + 0.6 * sizes.title;
  y = put_lines(svg, title, {sizes.margin, y}, sizes.inner(), {sizes.title, true});
  y -= 0.35 * sizes.title;
  y = put_lines(svg, under, {sizes.margin, y}, sizes.inner(),
                {sizes.text, false, Anchor::start, soft_ink});
  if (sentence.empty()) return y;
  return put_lines(svg, sentence, {sizes.margin, y + 0.4 * sizes.text}, sizes.inner(),
                   {1.1 * sizes.text});
}

double put_chip(Svg& svg, std::string_view text, Point at, double width, double size, bool dark) {
  const Lettering letters{size, true, Anchor::start, dark ? paper : ink};
  const double pad = 0.55 * size, height = 1.45 * size;
  const auto shown = cut_to(text, width - 2 * pad, letters);
  svg.leaf("rect", {{"x", px(at.x)},
                    {"y", px(at.y)},
                    {"width", px(text_width(shown, letters) + 2 * pad)},
                    {"height", px(height)},
                    {"rx", "5"},
                    {"fill", std::string(dark ? ink : paper)},
                    {"stroke", std::string(ink)},
                    {"stroke-width", "1.5"}});
  put_text(svg, shown, {at.x + pad, at.y + 1.07 * size}, letters);
  return height;
}

Picture finished_page(const Svg& body, const Sizes& sizes, double height, const std::string& id,
                      std::string_view title, std::string_view description) {
  const double whole = std::ceil(height);
  Svg page;
  page.leaf("rect",
            {{"width", px(sizes.width)}, {"height", px(whole)}, {"fill", std::string(paper)}});
  page.append(body);
  return page.finish(id, sizes.width, whole, title, description);
}

}  // namespace pitwright::picture
