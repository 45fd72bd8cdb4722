#include "picture/axis.h"

#include <cmath>

#include "base/expects.h"

namespace pitwright::picture {

namespace {
constexpr double dust = 1e-9;  // of a step: 0.30000000000000004 is 0.3
}

double round_step(double span, int most) {
  expects(std::isfinite(span) && span > 0.0 && most >= 1);
  const double least = span / most;
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double nice : {1.0, 2.0, 5.0}) {
    if (nice * power >= least * (1.0 - dust)) return nice * power;
  }
  return 10.0 * power;
}

std::vector<double> ticks(double low, double high, int most) {
  const double step = round_step(high - low, most);
  std::vector<double> all;
  for (double k = std::ceil(low / step - dust); k * step <= high + dust * step; ++k) {
    all.push_back(k * step);
  }
  return all;
}

void put_line(Svg& svg, Point from, Point to, const Stroke& stroke) {
  Attributes line = {{"x1", px(from.x)},
                     {"y1", px(from.y)},
                     {"x2", px(to.x)},
                     {"y2", px(to.y)},
                     {"stroke", std::string(stroke.color)},
                     {"stroke-width", px(stroke.width)}};
  if (!stroke.dashes.empty()) line.emplace_back("stroke-dasharray", stroke.dashes);
  svg.leaf("line", line);
}

}  // namespace pitwright::picture
