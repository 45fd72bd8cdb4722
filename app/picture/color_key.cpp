#include "picture/color_key.h"

#include <algorithm>

#include "picture/axis.h"
#include "report/degrees.h"

namespace pitwright::picture {
namespace {

constexpr double bar_height = 16.0;

void put_bar(Svg& svg, const HeatScale& colors, Point at, double band_width) {
  for (int band = 0; band < 2 * colors.bands(); ++band) {
    const double x = at.x + band * band_width;
    svg.leaf("rect", {{"x", px(x)},
                      {"y", px(at.y)},
                      {"width", px(band_width)},
                      {"height", px(bar_height)},
                      {"fill", colors.color(band)}});
    if (band == 0) continue;
    const bool zero = band == colors.bands();
    const double width = zero ? 1.6 : (band < colors.bands() ? 1.1 : 0.7);
    put_line(svg, {x, at.y}, {x, at.y + bar_height},
             {contour_ink, width, band < colors.bands() ? "4 3" : ""});
  }
  svg.leaf("rect", {{"x", px(at.x)},
                    {"y", px(at.y)},
                    {"width", px(2 * colors.bands() * band_width)},
                    {"height", px(bar_height)},
                    {"fill", "none"},
                    {"stroke", std::string(ink)},
                    {"stroke-width", "1"}});
}

/// Every limit in numbers; every second one where they would touch.
void put_limits(Svg& svg, const HeatScale& colors, Scale unit, Point at, double band_width,
                const Lettering& letters) {
  const auto limits = colors.limits();
  const auto number = [&](double limit) {
    const int decimals = colors.step() < 1.0 ? 1 : 0;
    return report::number_text(limit, decimals, true);
  };
  const double widest = text_width(number(limits.back()), letters) + 0.6 * letters.size;
  const int every = widest > band_width ? 2 : 1;
  for (int k = -colors.bands(); k <= colors.bands(); ++k) {
    if (k % every != 0) continue;
    const double limit = limits[static_cast<std::size_t>(k + colors.bands())];
    const auto text = k == 0 ? "0 " + report::scale_mark(unit) : number(limit);
    put_text(svg, text, {at.x + (k + colors.bands()) * band_width, at.y}, letters);
  }
}

}  // namespace

double put_key(Svg& svg, const HeatScale& colors, Scale unit, const KeyWords& words, Point at,
               double width, double size, const Attributes& attributes) {
  const Lettering letters{size, false, Anchor::middle, ink};
  const double inset = size * 1.6;  // the outermost numbers reach beyond their limits
  const double band_width = (width - 2.0 * inset) / (2.0 * colors.bands());
  const Point bar = {at.x + inset, at.y + 1.5 * size};
  svg.open("g", attributes);
  const double middle = at.x + width / 2.0;
  put_text(svg, "← " + words.cool, {middle - size, at.y + 0.9 * size},
           {size, true, Anchor::end, cool_ink});
  put_text(svg, words.warm + " →", {middle + size, at.y + 0.9 * size},
           {size, true, Anchor::start, warm_ink});
  put_bar(svg, colors, bar, band_width);
  put_limits(svg, colors, unit, {bar.x, bar.y + bar_height + 1.2 * size}, band_width, letters);
  svg.close();
  return 1.5 * size + bar_height + 1.7 * size;
}

}  // namespace pitwright::picture
