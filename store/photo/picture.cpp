#include "photo/picture.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>

#include <opencv2/imgproc.hpp>

#include "browning/color.h"
#include "photo/clipped.h"
#include "photo/codec.h"
#include "photo/picture_header.h"
#include "series/robust.h"

namespace pitwright::photo {
namespace {

constexpr int least_side = 300;
constexpr double most_pixels = 120e6;
constexpr std::uintmax_t most_bytes = 200'000'000;

Result<std::vector<unsigned char>> bytes_of(const std::filesystem::path& path) {
  std::error_code problem;
  if (!std::filesystem::is_regular_file(path, problem))
    return fail(ErrorKind::not_found, "{}: there is no such photograph", path.string());
  if (std::filesystem::file_size(path, problem) > most_bytes)
    return fail(ErrorKind::bad_input, "{}: above 200 MB; save the photograph smaller",
                path.string());
  std::ifstream file(path, std::ios::binary);
  if (!file) return fail(ErrorKind::not_found, "{}: cannot be read", path.string());
  return std::vector<unsigned char>(std::istreambuf_iterator<char>(file), {});
}

}  // namespace

Result<cv::Mat> load_picture(const std::filesystem::path& path) {
  const auto bytes = bytes_of(path);
  if (!bytes) return std::unexpected(bytes.error());
  const auto size = picture_size(*bytes);
  if (!size) return fail(ErrorKind::bad_input, "{}: is no JPEG or PNG picture", path.string());
  if (std::min(size->width, size->height) < least_side)
    return fail(ErrorKind::bad_input,
                "{}: {} x {} pixels are too few to see bread in; {} on the "
                "shorter side are the least",
                path.string(), size->width, size->height, least_side);
  if (static_cast<double>(size->width) * size->height > most_pixels)
    return fail(ErrorKind::bad_input, "{}: {} x {} pixels are too many; save it smaller",
                path.string(), size->width, size->height);
  const cv::Mat picture = decoded(*bytes);
  if (picture.empty())
    return fail(ErrorKind::bad_input, "{}: the picture is broken and cannot be read",
                path.string());
  return picture;
}

cv::Mat linear_light(const cv::Mat& stored) {
  cv::Mat table(1, 256, CV_32F);
  for (int i = 0; i < 256; ++i)
    table.at<float>(i) = static_cast<float>(browning::linear_of_srgb(i / 255.0));
  cv::Mat linear;
  cv::LUT(stored, table, linear);
  return linear;
}

std::array<cv::Point2f, 4> points_of(const Quad& quad, double scale) {
  std::array<cv::Point2f, 4> points;
  std::ranges::transform(quad, points.begin(), [&](const Pixel& p) {
    return cv::Point2f(static_cast<float>(p.x * scale), static_cast<float>(p.y * scale));
  });
  return points;
}

std::string fault_of(const Quad& quad, int width, int height) {
  for (const auto& p : quad)
    if (!(p.x >= 0.0 && p.y >= 0.0 && p.x <= width && p.y <= height))
      return fmt::format(
          "the corner at {:.0f}, {:.0f} lies outside the photograph of {} x {} "
          "pixels",
          p.x, p.y, width, height);
  const auto points = points_of(quad, 1.0);
  if (!cv::isContourConvex(points))
    return "the corners are crossed or lie on a line; give left back, right back, right front, "
           "left front";
  // Seen from the door with y running down the picture, back to front turns clockwise.
  if (cv::contourArea(points, true) < 0.0)
    return "the corners go round the wrong way; give left back, right back, right front, left "
           "front";
  return "";
}

Patch patch_of(const cv::Mat& stored, const Quad& quad, double scale) {
  std::vector<cv::Point> corners;
  for (const auto& p : points_of(quad, scale)) corners.emplace_back(cvRound(p.x), cvRound(p.y));
  const auto box = cv::boundingRect(corners) & cv::Rect({}, stored.size());
  Patch patch{{}, 0.0, 0.0};
  if (box.empty()) return patch;
  cv::Mat mask = cv::Mat::zeros(box.size(), CV_8U);
  for (auto& c : corners) c -= box.tl();
  cv::fillConvexPoly(mask, corners, cv::Scalar(255));
  const cv::Mat part = stored(box), linear = linear_light(part);
  std::array<std::vector<double>, 3> channel;
  std::vector<double> luminance;
  int ends = 0;
  for (int y = 0; y < box.height; ++y) {
    for (int x = 0; x < box.width; ++x) {
      if (mask.at<unsigned char>(y, x) == 0) continue;
      const auto v = linear.at<cv::Vec3f>(y, x);
      for (int k = 0; k < 3; ++k) channel[static_cast<std::size_t>(k)].push_back(v[k]);
      luminance.push_back(browning::luminance({v[2], v[1], v[0]}));
      ends += is_clipped(part.at<cv::Vec3b>(y, x)) ? 1 : 0;
    }
  }
  if (luminance.empty()) return patch;
  for (int k = 0; k < 3; ++k)
    patch.linear[k] = series::median(channel[static_cast<std::size_t>(k)]);
  const double middle = series::median(luminance);
  patch.unevenness = middle > 0.0 ? series::robust_sd(luminance) / middle : 1.0;
  patch.clipped_share = static_cast<double>(ends) / static_cast<double>(luminance.size());
  return patch;
}

}  // namespace pitwright::photo
