#include "photo/cores.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

#include "series/robust.h"

namespace pitwright::photo {
namespace {

using browning::Flaw;
using browning::Lab;

constexpr double rim_share = 0.2;     // of the side, on each side: crust and its browner edge
constexpr double shine_share = 0.05;  // of the side, left out around clipped pixels
constexpr double patch_share = 0.04;  // of the side, radius: smaller clipped patches are crumb
constexpr double most_glare = 0.35;   // of the core
constexpr double independent_share = 0.12;  // of the side: crumb this far apart counts as new
constexpr double bright_by_sds = 3.0, pale_by = 0.75;

/// Where the core lies, in a window of the rectified picture.
cv::Mat core_of(const Segment& segment, const cv::Rect& box, double side) {
  cv::Mat inside = cv::Mat::zeros(box.height + 2, box.width + 2, CV_8U), depth, core;
  const std::vector<std::vector<cv::Point>> outlines{segment.outline};
  cv::drawContours(inside, outlines, 0, cv::Scalar(255), cv::FILLED, cv::LINE_8, {}, 0,
                   cv::Point(1, 1) - box.tl());
  cv::distanceTransform(inside, depth, cv::DIST_L2, 5);
  core = depth > rim_share * side;
  return core(cv::Rect(1, 1, box.width, box.height)).clone();
}

/// Clipped patches and what lies close around them. Single clipped grains of crumb stay in: they
/// are among the brightest either way, and the middle does not move.
cv::Mat shine_of(const cv::Mat& clipped, double side) {
  const auto disk = [](double radius) {
    const int r = std::max(1, static_cast<int>(std::lround(radius)));
    return cv::getStructuringElement(cv::MORPH_ELLIPSE, {2 * r + 1, 2 * r + 1});
  };
  cv::Mat shine;
  cv::morphologyEx(clipped, shine, cv::MORPH_OPEN, disk(patch_share * side));
  cv::dilate(shine, shine, disk(shine_share * side));
  return shine;
}

double chroma(const Lab& color) {
  return std::hypot(color.a, color.b);
}

Lab middle_of(const std::vector<Lab>& pixels) {
  std::vector<double> l, a, b;
  for (const auto& p : pixels) {
    l.push_back(p.lightness);
    a.push_back(p.a);
    b.push_back(p.b);
  }
  return {series::median(l), series::median(a), series::median(b)};
}

double lightness_scatter(const std::vector<Lab>& pixels) {
  std::vector<double> l;
  for (const auto& p : pixels) l.push_back(p.lightness);
  return series::robust_sd(l);
}

/// Takes away what is much lighter than the rest and paler in color: a shine that stays below the
/// camera's end. Gives how many.
std::size_t drop_shine(std::vector<Lab>& pixels) {
  const auto middle = middle_of(pixels);
  const double sd = std::max(lightness_scatter(pixels), 1.0);
  return std::erase_if(pixels, [&](const Lab& p) {
    return p.lightness > middle.lightness + bright_by_sds * sd &&
           chroma(p) < pale_by * chroma(middle);
  });
}

}  // namespace

double EvenLight::factor(double x_share, double y_share) const {
  return std::exp(field.log_at(x_share, y_share) - at_card);
}

SeenSlice measure(const Rectified& grate, const Segment& segment, double side,
                  const EvenLight& light) {
  SeenSlice slice{grate.x_m(segment.middle.x),
                  grate.y_m(segment.middle.y),
                  std::sqrt(segment.area) / grate.pixels_per_m,
                  {0, 0, 0},
                  0.0,
                  0.0,
                  segment.flaw};
  const auto box = cv::boundingRect(segment.outline) & cv::Rect({}, grate.reflectance.size());
  const auto core = core_of(segment, box, side);
  const auto shine = shine_of(grate.clipped(box), side);
  std::vector<Lab> pixels;
  std::size_t total = 0, shining = 0;
  for (int y = 0; y < box.height; ++y) {
    for (int x = 0; x < box.width; ++x) {
      if (core.at<unsigned char>(y, x) == 0) continue;
      ++total;
      if (shine.at<unsigned char>(y, x) != 0) {
        ++shining;
        continue;
      }
      const auto v = grate.reflectance.at<cv::Vec3f>(box.y + y, box.x + x);
      const double f =
          light.factor(grate.x_m(box.x + x) / grate.width_m, grate.y_m(box.y + y) / grate.depth_m);
      pixels.push_back(browning::lab_of({v[2] / f, v[1] / f, v[0] / f}));
    }
  }
  if (total == 0) {
    if (slice.flaw == Flaw::none) slice.flaw = Flaw::cut_off;
    return slice;
  }
  if (!pixels.empty()) shining += drop_shine(pixels);
  slice.glare_share = static_cast<double>(shining) / static_cast<double>(total);
  if (slice.glare_share > most_glare && slice.flaw == Flaw::none) slice.flaw = Flaw::glare;
  if (pixels.empty()) return slice;
  slice.color = middle_of(pixels);
  const double grains =
      std::max(1.0, static_cast<double>(pixels.size()) / std::pow(independent_share * side, 2.0));
  // A share of the light is a share of (L* + 16) / 3.
  const double light_sd = light.field.residual_sd * (slice.color.lightness + 16.0) / 3.0;
  // The median of n normals has 1.2533 times the sd of their mean.
  slice.lightness_sd =
      std::hypot(1.2533 * lightness_scatter(pixels) / std::sqrt(grains), light_sd, 0.3);
  return slice;
}

}  // namespace pitwright::photo
