#include "photo/lighting.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

#include "browning/color.h"

namespace pitwright::photo {
namespace {

constexpr double block_share = 0.3;    // of a slice's side
constexpr double shadow_share = 0.08;  // of a slice's side, kept clear around bread
constexpr std::size_t fewest = 30;     // pixels of a block

}  // namespace

std::vector<browning::LightSample> table_samples(const Rectified& grate, const cv::Mat& bread,
                                                 double side) {
  const int clear = std::max(1, static_cast<int>(std::lround(shadow_share * side)));
  cv::Mat used;
  cv::dilate(bread, used,
             cv::getStructuringElement(cv::MORPH_ELLIPSE, {2 * clear + 1, 2 * clear + 1}));
  used |= grate.hidden | grate.clipped;
  const int block = std::max(8, static_cast<int>(std::lround(block_share * side)));
  std::vector<browning::LightSample> samples;
  std::vector<double> values;
  for (int top = 0; top < used.rows; top += block) {
    for (int left = 0; left < used.cols; left += block) {
      values.clear();
      double sx = 0.0, sy = 0.0;
      for (int y = top; y < std::min(top + block, used.rows); ++y) {
        for (int x = left; x < std::min(left + block, used.cols); ++x) {
          if (used.at<unsigned char>(y, x) != 0) continue;
          const auto v = grate.reflectance.at<cv::Vec3f>(y, x);
          values.push_back(browning::luminance({v[2], v[1], v[0]}));
          sx += x;
          sy += y;
        }
      }
      if (values.size() < fewest) continue;
      const auto n = static_cast<double>(values.size());
      const auto quarter = values.begin() + static_cast<std::ptrdiff_t>(0.75 * (n - 1));
      std::ranges::nth_element(values, quarter);
      if (*quarter <= 0.0) continue;
      samples.push_back({grate.x_m(sx / n) / grate.width_m, grate.y_m(sy / n) / grate.depth_m,
                         std::log(*quarter)});
    }
  }
  return samples;
}

}  // namespace pitwright::photo
