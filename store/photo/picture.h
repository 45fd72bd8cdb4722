#pragma once

#include <filesystem>

#include <opencv2/core.hpp>

#include "base/result.h"
#include "photo/photo.h"

namespace pitwright::photo {

/// The picture upright, 8 bits of blue, green, red. Fails as read_photo says.
Result<cv::Mat> load_picture(const std::filesystem::path& path);

/// Its linear light, 32-bit floats of blue, green, red, 0 to 1.
cv::Mat linear_light(const cv::Mat& stored);

/// Corners as OpenCV takes them, in a picture `scale` times as large.
std::array<cv::Point2f, 4> points_of(const Quad& quad, double scale);

/// What is wrong with four corners in a picture of this size; empty where nothing is.
std::string fault_of(const Quad& quad, int width, int height);

/// One color over a quad: what half of the pixels exceed, channel by channel.
struct Patch {
  cv::Vec3d linear;      ///< blue, green, red
  double unevenness;     ///< robust sd of the luminance over its median
  double clipped_share;  ///< of pixels with a channel at its end
};

Patch patch_of(const cv::Mat& stored, const Quad& quad, double scale);

}  // namespace pitwright::photo
