#include <opencv2/imgproc.hpp>

#include "photo/codec.h"
#include "photo/picture.h"
#include "photo/rectified.h"

namespace pitwright::photo {
namespace {

const cv::Scalar line_color(255, 120, 0), flaw_color(0, 130, 255), card_color(255, 255, 255);

void outline(cv::Mat& picture, const Quad& quad, const cv::Scalar& color, int width) {
  std::vector<cv::Point> points;
  for (const auto& p : quad) points.emplace_back(cvRound(p.x), cvRound(p.y));
  cv::polylines(picture, points, true, color, width, cv::LINE_AA);
}

/// The square of a slice's area at its middle, as it lies in the photograph.
Quad square_of(const Rectified& grate, const SeenSlice& slice) {
  const double h = 0.5 * slice.side_m;
  const auto at = [&](double x, double y) {
    return grate.in_photo({(x + grate.margin_m) * grate.pixels_per_m - 0.5,
                           (grate.depth_m + grate.margin_m - y) * grate.pixels_per_m - 0.5});
  };
  return {at(slice.x_m - h, slice.y_m + h), at(slice.x_m + h, slice.y_m + h),
          at(slice.x_m + h, slice.y_m - h), at(slice.x_m - h, slice.y_m - h)};
}

}  // namespace

Result<void> draw_found(const std::filesystem::path& path, const Scene& scene, const Seen& seen,
                        const std::filesystem::path& out) {
  auto picture = load_picture(path);
  if (!picture) return std::unexpected(picture.error());
  const auto grate = rectify(*picture, scene, {1, 1, 1});
  const int width = std::max(1, picture->cols / 600);
  outline(*picture, scene.grate, line_color, width);
  for (const auto& card : scene.cards) outline(*picture, card.corners, card_color, width);
  if (scene.untoasted) outline(*picture, *scene.untoasted, card_color, width);
  for (std::size_t i = 0; i < seen.slices.size(); ++i) {
    const auto& slice = seen.slices[i];
    const bool counts = slice.flaw == browning::Flaw::none;
    const auto& color = counts ? line_color : flaw_color;
    const auto square = square_of(grate, slice);
    outline(*picture, square, color, width);
    const auto at = cv::Point(cvRound(square[0].x), cvRound(0.5 * (square[0].y + square[3].y)));
    cv::putText(*picture, (counts ? "" : "x") + std::to_string(i + 1), at, cv::FONT_HERSHEY_SIMPLEX,
                0.5 * width, color, width, cv::LINE_AA);
  }
  if (write_png(out, *picture)) return {};
  return fail(ErrorKind::unavailable, "{}: cannot be written", out.string());
}

}  // namespace pitwright::photo
