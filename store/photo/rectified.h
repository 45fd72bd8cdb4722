#pragma once

#include <opencv2/core.hpp>

#include "photo/photo.h"

namespace pitwright::photo {

/// The grate seen from straight above, its back edge on top, with a little of what is around it.
struct Rectified {
  cv::Mat reflectance;  ///< 32-bit floats of blue, green, red: 1 is white in the first card's light
  cv::Mat clipped;      ///< 8 bits: not 0 where the camera's range ended
  cv::Mat hidden;  ///< 8 bits: not 0 on cards, on the untoasted slice and outside the photograph
  double pixels_per_m = 0.0;
  double margin_m = 0.0;  ///< shown beyond every edge of the grate
  double depth_m = 0.0, width_m = 0.0;
  cv::Matx33d from_photo;  ///< photograph pixels to these

  double x_m(double column) const { return (column + 0.5) / pixels_per_m - margin_m; }
  double y_m(double row) const { return depth_m + margin_m - (row + 0.5) / pixels_per_m; }
  /// A pixel of the photograph as shares of the grate's width and depth.
  cv::Point2d share_of(const Pixel& pixel) const;
  Pixel in_photo(const cv::Point2d& here) const;
};

/// `white` is the first card's linear light over its reflectance, blue, green, red.
/// Pre: the grate's corners have no fault.
Rectified rectify(const cv::Mat& stored, const Scene& scene, const cv::Vec3d& white);

/// How many pixels of the photograph a metre of the grate takes, on average.
double density_of(const Scene& scene);

}  // namespace pitwright::photo
