#include "photo/rectified.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

#include "photo/clipped.h"
#include "photo/picture.h"

namespace pitwright::photo {
namespace {

constexpr double longest_px = 1200.0;  // side of the grate as it is worked on
constexpr double margin_share = 0.06;  // of the grate's shorter side

cv::Mat clipped_of(const cv::Mat& stored) {
  cv::Mat mask(stored.size(), CV_8U);
  for (int y = 0; y < stored.rows; ++y)
    for (int x = 0; x < stored.cols; ++x)
      mask.at<unsigned char>(y, x) = is_clipped(stored.at<cv::Vec3b>(y, x)) ? 255 : 0;
  return mask;
}

/// Not 0 where something lies that is neither bread nor grate.
cv::Mat hidden_of(const cv::Size& size, const Scene& scene, double scale) {
  cv::Mat mask = cv::Mat::zeros(size, CV_8U);
  const auto hide = [&](const Quad& quad) {
    // A card's corners are given a little inside it: hide a tenth more on every side.
    cv::Point2f middle(0, 0);
    const auto points = points_of(quad, scale);
    for (const auto& p : points) middle += 0.25F * p;
    std::vector<cv::Point> grown;
    for (const auto& p : points) {
      const auto q = middle + 1.3F * (p - middle);
      grown.emplace_back(cvRound(q.x), cvRound(q.y));
    }
    cv::fillConvexPoly(mask, grown, cv::Scalar(255));
  };
  for (const auto& card : scene.cards) hide(card.corners);
  if (scene.untoasted) hide(*scene.untoasted);
  return mask;
}

}  // namespace

double density_of(const Scene& scene) {
  return std::sqrt(cv::contourArea(points_of(scene.grate, 1.0)) / (scene.width_m * scene.depth_m));
}

cv::Point2d Rectified::share_of(const Pixel& pixel) const {
  const cv::Vec3d p = from_photo * cv::Vec3d(pixel.x, pixel.y, 1.0);
  return {x_m(p[0] / p[2]) / width_m, y_m(p[1] / p[2]) / depth_m};
}

Pixel Rectified::in_photo(const cv::Point2d& here) const {
  const cv::Vec3d p = from_photo.inv() * cv::Vec3d(here.x, here.y, 1.0);
  return {p[0] / p[2], p[1] / p[2]};
}

Rectified rectify(const cv::Mat& stored, const Scene& scene, const cv::Vec3d& white) {
  Rectified out;
  out.width_m = scene.width_m;
  out.depth_m = scene.depth_m;
  out.margin_m = margin_share * std::min(scene.width_m, scene.depth_m);
  const double density = density_of(scene);
  out.pixels_per_m = std::min(density, longest_px / std::max(scene.width_m, scene.depth_m));
  const double scale = out.pixels_per_m / density;
  cv::Mat smaller = stored;
  if (scale < 1.0) cv::resize(stored, smaller, {}, scale, scale, cv::INTER_AREA);

  const double m = out.margin_m, k = out.pixels_per_m;
  const auto at = [&](double x, double y) {
    return cv::Point2f(static_cast<float>((x + m) * k - 0.5),
                       static_cast<float>((scene.depth_m + m - y) * k - 0.5));
  };
  const std::array<cv::Point2f, 4> to{at(0, scene.depth_m), at(scene.width_m, scene.depth_m),
                                      at(scene.width_m, 0), at(0, 0)};
  // A corner at 0, 0 is the outer corner of the first pixel, whose middle OpenCV calls 0, 0.
  auto from = points_of(scene.grate, scale);
  for (auto& p : from) p -= cv::Point2f(0.5F, 0.5F);
  const cv::Matx33d warp = cv::getPerspectiveTransform(from.data(), to.data());
  out.from_photo = warp * cv::Matx33d(scale, 0, -0.5, 0, scale, -0.5, 0, 0, 1);
  const cv::Size size(cvRound((scene.width_m + 2 * m) * k), cvRound((scene.depth_m + 2 * m) * k));

  cv::warpPerspective(linear_light(smaller), out.reflectance, warp, size, cv::INTER_LINEAR,
                      cv::BORDER_REPLICATE);
  cv::multiply(out.reflectance, cv::Scalar(1 / white[0], 1 / white[1], 1 / white[2]),
               out.reflectance);
  cv::warpPerspective(clipped_of(smaller), out.clipped, warp, size, cv::INTER_LINEAR);
  cv::warpPerspective(hidden_of(smaller.size(), scene, scale), out.hidden, warp, size,
                      cv::INTER_NEAREST, cv::BORDER_CONSTANT, cv::Scalar(255));
  return out;
}

}  // namespace pitwright::photo
