#pragma once

#include <algorithm>

#include <opencv2/core.hpp>

namespace pitwright::photo {

/// Whether a channel is at the end of what the camera holds; the last steps of a JPEG count as the
/// end.
inline bool is_clipped(const cv::Vec3b& stored) {
  constexpr int end = 250;
  return std::max({stored[0], stored[1], stored[2]}) >= end;
}

}  // namespace pitwright::photo
