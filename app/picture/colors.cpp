#include "picture/colors.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "base/expects.h"
#include "picture/axis.h"

namespace pitwright::picture {
namespace {

struct Oklab {
  double l, a, b;
};

double to_linear(double channel) {
  return channel <= 0.04045 ? channel / 12.92 : std::pow((channel + 0.055) / 1.055, 2.4);
}

double from_linear(double channel) {
  return channel <= 0.0031308 ? 12.92 * channel : 1.055 * std::pow(channel, 1.0 / 2.4) - 0.055;
}

Oklab oklab_of(const std::string& color) {
  const auto channel = [&](std::size_t at) {
    return to_linear(static_cast<double>(std::strtol(color.substr(at, 2).c_str(), nullptr, 16)) /
                     255.0);
  };
  const double r = channel(1), g = channel(3), b = channel(5);
  const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
          1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

std::string color_of(const Oklab& lab) {
  const double l = std::pow(lab.l + 0.3963377774 * lab.a + 0.2158037573 * lab.b, 3);
  const double m = std::pow(lab.l - 0.1055613458 * lab.a - 0.0638541728 * lab.b, 3);
  const double s = std::pow(lab.l - 0.0894841775 * lab.a - 1.2914855480 * lab.b, 3);
  const auto byte = [](double linear) {
    return static_cast<int>(std::lround(255.0 * from_linear(std::clamp(linear, 0.0, 1.0))));
  };
  return fmt::format("#{:02x}{:02x}{:02x}",
                     byte(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
                     byte(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
                     byte(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s));
}

constexpr auto pale_warm = "#fff3d9", full_warm = "#dd7200";
constexpr auto pale_cool = "#e9f1f8", full_cool = "#14508f";

}  // namespace

HeatScale::HeatScale(double largest) : step_(0.0), bands_(0) {
  expects(std::isfinite(largest) && largest > 0.0);
  constexpr int most_bands = 6;
  constexpr double dust = 1e-9;
  step_ = round_step(largest, most_bands);
  bands_ = std::max(2, static_cast<int>(std::ceil(largest / step_ - dust)));
}

std::vector<double> HeatScale::limits() const {
  std::vector<double> all;
  for (int k = -bands_; k <= bands_; ++k) all.push_back(k * step_);
  return all;
}

std::string HeatScale::color(int band) const {
  expects(band >= 0 && band < 2 * bands_);
  const bool warm = band >= bands_;
  const int out = warm ? band - bands_ : bands_ - 1 - band;  // 0 beside zero
  const double share = bands_ == 1 ? 0.0 : static_cast<double>(out) / (bands_ - 1);
  const auto from = oklab_of(warm ? pale_warm : pale_cool);
  const auto to = oklab_of(warm ? full_warm : full_cool);
  const auto mixed = [share](double a, double b) { return a + share * (b - a); };
  return color_of({mixed(from.l, to.l), mixed(from.a, to.a), mixed(from.b, to.b)});
}

double lightness(const std::string& color) {
  return oklab_of(color).l;
}

}  // namespace pitwright::picture
