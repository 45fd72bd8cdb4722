#pragma once

#include <filesystem>
#include <span>

#include <opencv2/core.hpp>

namespace pitwright::photo {

/// A JPEG or PNG as 8 bits of blue, green, red, turned upright as its Exif orientation says; empty
/// where it is broken. The libraries of the two formats are called directly: OpenCV's own door to
/// them draws in some hundred others, which would add 0.2 s to every command.
cv::Mat decoded(std::span<const unsigned char> bytes);

/// Writes 8 bits of blue, green, red as PNG; false where the file cannot be written.
bool write_png(const std::filesystem::path& path, const cv::Mat& picture);

}  // namespace pitwright::photo
