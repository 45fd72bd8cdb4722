#include "photo/segments.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

#include "browning/light.h"
#include "photo/lighting.h"
#include "series/robust.h"

namespace pitwright::photo {
namespace {

using browning::Flaw;

constexpr double warmer_by = 0.045;    // in (R - B) / (R + G + B) above what lies under the bread
constexpr double warm_table = 0.10;    // from here on the table is taken for wood
constexpr double brighter_by = 1.5;    // than the table: glare
constexpr double darker_by = 0.40;     // of the table's luminance
constexpr double least_share = 0.004;  // of the grate's area: smaller patches are no slices
constexpr double cut_share = 0.55, touch_share = 1.6;  // of the middle area
constexpr double least_solid = 0.9;
constexpr double ring_gap = 0.12;  // of the side, closed in a crust

/// (R - B) / (R + G + B): free of how much light falls on a place.
cv::Mat warmth_of(const cv::Mat& reflectance) {
  std::vector<cv::Mat> c;
  cv::split(reflectance, c);
  cv::Mat warmth;
  cv::divide(c[2] - c[0], c[0] + c[1] + c[2] + 0.01, warmth);
  return warmth;
}

std::vector<double> sampled(const cv::Mat& values, const cv::Mat& leave_out) {
  std::vector<double> all;
  for (int y = 0; y < values.rows; y += 3)
    for (int x = 0; x < values.cols; x += 3)
      if (leave_out.at<unsigned char>(y, x) == 0) all.push_back(values.at<float>(y, x));
  return all;
}

double share_point(std::vector<double> values, double share) {
  if (values.empty()) return 0.0;
  const auto k = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::ranges::nth_element(values, values.begin() + k);
  return values[static_cast<std::size_t>(k)];
}

cv::Mat disk(double diameter) {
  const int d = std::max(3, static_cast<int>(std::lround(diameter)) | 1);
  return cv::getStructuringElement(cv::MORPH_ELLIPSE, {d, d});
}

std::vector<std::vector<cv::Point>> outlines_of(const cv::Mat& mask, double least_area) {
  std::vector<std::vector<cv::Point>> all;
  cv::findContours(mask, all, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
  std::erase_if(all, [&](const auto& outline) { return cv::contourArea(outline) < least_area; });
  return all;
}

double middle_area(const std::vector<std::vector<cv::Point>>& outlines) {
  std::vector<double> areas;
  for (const auto& outline : outlines) areas.push_back(cv::contourArea(outline));
  return series::median(areas);
}

/// Area over that of the hull.
double solidity(const std::vector<cv::Point>& outline) {
  std::vector<cv::Point> hull;
  cv::convexHull(outline, hull);
  return cv::contourArea(outline) / std::max(cv::contourArea(hull), 1.0);
}

/// Luminance over that of the table at the same place; 1 is the table.
cv::Mat against_table(const Rectified& grate, const cv::Mat& luminance, const cv::Mat& warm,
                      double side) {
  const auto light = browning::fit_light(table_samples(grate, warm, side));
  cv::Mat relative = luminance.clone();
  for (int y = 0; y < relative.rows; ++y) {
    const double share = grate.y_m(y) / grate.depth_m;
    for (int x = 0; x < relative.cols; ++x)
      relative.at<float>(y, x) /=
          static_cast<float>(std::exp(light.log_at(grate.x_m(x) / grate.width_m, share)));
  }
  return relative;
}

/// Warm, or dark and thick, or shining.
cv::Mat bread_mask(const cv::Mat& warm, const Rectified& grate, const cv::Mat& relative,
                   double side) {
  // Opening with a disk takes away what is thin: bars are dark, too, and must not join slices.
  cv::Mat dark = relative < darker_by;
  cv::morphologyEx(dark, dark, cv::MORPH_OPEN, disk(0.2 * side));
  cv::Mat is_bread = warm | (relative > brighter_by);
  is_bread |= grate.clipped | dark;
  is_bread.setTo(0, grate.hidden);
  // Where glare hides a slice its crust still shows round it: what a ring of a slice's size holds
  // is bread.
  cv::Mat rings;
  cv::morphologyEx(is_bread, rings, cv::MORPH_CLOSE, disk(ring_gap * side));
  auto outlines = outlines_of(rings, cut_share * side * side);
  std::erase_if(outlines, [&](const auto& o) {
    return cv::contourArea(o) > touch_share * side * side || solidity(o) < least_solid;
  });
  cv::drawContours(is_bread, outlines, -1, cv::Scalar(255), cv::FILLED);
  cv::morphologyEx(is_bread, is_bread, cv::MORPH_CLOSE, disk(0.03 * side));
  cv::morphologyEx(is_bread, is_bread, cv::MORPH_OPEN, disk(0.3 * side));
  return is_bread;
}

Segment segment_of(std::vector<cv::Point> outline) {
  const auto m = cv::moments(outline);
  Segment one;
  one.area = cv::contourArea(outline);
  one.middle = {m.m10 / m.m00, m.m01 / m.m00};
  one.outline = std::move(outline);
  return one;
}

Flaw shape_flaw(const Segment& one, double usual, const cv::Size& size) {
  const auto box = cv::boundingRect(one.outline);
  const bool at_edge =
      box.x <= 1 || box.y <= 1 || box.br().x >= size.width - 1 || box.br().y >= size.height - 1;
  if (one.area > touch_share * usual) return Flaw::touching;
  if (one.area < cut_share * usual || at_edge) return Flaw::cut_off;
  return solidity(one.outline) < least_solid ? Flaw::cut_off : Flaw::none;
}

}  // namespace

Result<Segments> find_segments(const Rectified& grate) {
  cv::Mat smooth, luminance;
  cv::GaussianBlur(grate.reflectance, smooth, {3, 3}, 0);
  cv::transform(smooth, luminance, cv::Matx13f(0.0722F, 0.7152F, 0.2126F));
  const cv::Mat warmth = warmth_of(smooth);
  const double table = share_point(sampled(warmth, grate.hidden), 0.12);
  if (table > warm_table)
    return fail(ErrorKind::bad_input,
                "what lies under the grate is as warm in color as bread; "
                "lay white or gray paper under it, or check the gray card's corners");
  cv::Mat warm = warmth > table + warmer_by;
  warm.setTo(0, grate.hidden);
  const double least = least_share * static_cast<double>(warm.total());
  const auto first = outlines_of(warm, least);
  if (first.empty())
    return fail(ErrorKind::bad_input,
                "no slices found on the grate; check its corners, and that "
                "bread differs in color from what lies under it");
  Segments found;
  const double about = std::sqrt(middle_area(first));
  found.mask = bread_mask(warm, grate, against_table(grate, luminance, warm, about), about);
  auto outlines = outlines_of(found.mask, least);
  if (outlines.empty())
    return fail(ErrorKind::bad_input,
                "no slices found on the grate: nothing on it has the size "
                "and shape of bread");
  const double usual = middle_area(outlines);
  found.side = std::sqrt(usual);
  cv::Mat filled = cv::Mat::zeros(found.mask.size(), CV_8U);
  cv::drawContours(filled, outlines, -1, cv::Scalar(255), cv::FILLED);
  found.mask = filled | warm;
  for (auto& outline : outlines) {
    auto one = segment_of(std::move(outline));
    one.flaw = shape_flaw(one, usual, filled.size());
    const double x = grate.x_m(one.middle.x), y = grate.y_m(one.middle.y);
    const bool is_on_grate = x >= 0 && y >= 0 && x <= grate.width_m && y <= grate.depth_m;
    if (is_on_grate && one.area > 0.15 * usual) found.all.push_back(std::move(one));
  }
  return found;
}

}  // namespace pitwright::photo
