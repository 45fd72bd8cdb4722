#pragma once

#include <vector>

#include <opencv2/core.hpp>

#include "photo/rectified.h"

namespace pitwright::photo {

/// What was taken for a slice, in the rectified picture.
struct Segment {
  std::vector<cv::Point> outline;
  cv::Point2d middle;
  double area;                                 ///< [pixels^2]
  browning::Flaw flaw = browning::Flaw::none;  ///< touching, cut_off or none
};

struct Segments {
  std::vector<Segment> all;
  cv::Mat mask;       ///< 8 bits: not 0 on anything that may be bread, small pieces too
  double side = 0.0;  ///< root of the middle area [pixels]
};

/// Finds bread: what is warmer in color than what lies under it, or much darker and not thin; bars
/// are thin. Holes (glare) are filled.
/// Fails: bad_input where nothing is found, or what lies under the grate is itself as warm as
/// bread.
Result<Segments> find_segments(const Rectified& grate);

}  // namespace pitwright::photo
