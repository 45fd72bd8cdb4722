#include "photo/picture_header.h"

#include <algorithm>
#include <array>

namespace pitwright::photo {
namespace {

using Bytes = std::span<const unsigned char>;

constexpr std::array<unsigned char, 8> png_start{0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n'};

int big_endian(Bytes bytes, std::size_t at, std::size_t count) {
  unsigned value = 0;
  for (std::size_t i = 0; i < count; ++i) value = value << 8U | bytes[at + i];
  return static_cast<int>(value & 0x7FFFFFFFU);
}

std::optional<PictureSize> png_size(Bytes bytes) {
  if (bytes.size() < 24) return std::nullopt;
  return PictureSize{big_endian(bytes, 16, 4), big_endian(bytes, 20, 4)};
}

bool starts_frame(unsigned char marker) {
  const bool is_table = marker == 0xC4 || marker == 0xC8 || marker == 0xCC;
  return marker >= 0xC0 && marker <= 0xCF && !is_table;
}

/// Calls use(marker, segment) for the segments of a JPEG up to its picture, the marker and its
/// length left in front, until `use` says true.
template <typename Use>
void each_segment(Bytes bytes, Use use) {
  constexpr unsigned char start_of_scan = 0xDA;
  std::size_t at = 2;
  while (at + 4 <= bytes.size() && bytes[at] == 0xFF && bytes[at + 1] != start_of_scan) {
    if (bytes[at + 1] == 0xFF) {  // fill
      ++at;
      continue;
    }
    const auto length = 2 + static_cast<std::size_t>(big_endian(bytes, at + 2, 2));
    if (at + length > bytes.size() || use(bytes[at + 1], bytes.subspan(at, length))) return;
    at += length;
  }
}

std::optional<PictureSize> jpeg_size(Bytes bytes) {
  std::optional<PictureSize> size;
  each_segment(bytes, [&](unsigned char marker, Bytes segment) {
    if (!starts_frame(marker) || segment.size() < 9) return false;
    size = PictureSize{big_endian(segment, 7, 2), big_endian(segment, 5, 2)};
    return true;
  });
  return size;
}

unsigned number_at(Bytes bytes, std::size_t at, std::size_t count, bool little) {
  unsigned value = 0;
  for (std::size_t i = 0; i < count; ++i)
    value = value << 8U | bytes[at + (little ? count - 1 - i : i)];
  return value;
}

/// The orientation of a TIFF block, 0 where it holds none.
int tiff_orientation(Bytes tiff) {
  constexpr unsigned orientation_tag = 0x0112;
  constexpr std::size_t entry_size = 12;
  if (tiff.size() < 8) return 0;
  const bool little = tiff[0] == 'I';
  const std::size_t first = number_at(tiff, 4, 4, little);
  if (first > tiff.size() - 2) return 0;
  const std::size_t count = number_at(tiff, first, 2, little);
  for (std::size_t k = 0; k < count; ++k) {
    const std::size_t entry = first + 2 + entry_size * k;
    if (entry + entry_size > tiff.size()) return 0;
    if (number_at(tiff, entry, 2, little) == orientation_tag)
      return static_cast<int>(number_at(tiff, entry + 8, 2, little));
  }
  return 0;
}

}  // namespace

std::optional<PictureSize> picture_size(Bytes bytes) {
  if (bytes.size() > png_start.size() && std::ranges::equal(bytes.first(8), png_start))
    return png_size(bytes);
  if (bytes.size() > 4 && bytes[0] == 0xFF && bytes[1] == 0xD8) return jpeg_size(bytes);
  return std::nullopt;
}

int exif_orientation(Bytes bytes) {
  int orientation = 1;
  constexpr unsigned char app1 = 0xE1;
  constexpr std::array<unsigned char, 6> exif{'E', 'x', 'i', 'f', 0, 0};
  each_segment(bytes, [&](unsigned char marker, Bytes segment) {
    if (marker != app1 || segment.size() < 10 || !std::ranges::equal(segment.subspan(4, 6), exif))
      return false;
    const int told = tiff_orientation(segment.subspan(10));
    if (told >= 1 && told <= 8) orientation = told;
    return true;
  });
  return orientation;
}

}  // namespace pitwright::photo
