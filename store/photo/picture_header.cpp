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

std::optional<PictureSize> jpeg_size(Bytes bytes) {
  std::size_t at = 2;
  while (at + 9 <= bytes.size()) {
    if (bytes[at] != 0xFF) return std::nullopt;
    const auto marker = bytes[at + 1];
    if (marker == 0xFF) {  // fill
      ++at;
      continue;
    }
    if (starts_frame(marker))
      return PictureSize{big_endian(bytes, at + 7, 2), big_endian(bytes, at + 5, 2)};
    at += 2 + static_cast<std::size_t>(big_endian(bytes, at + 2, 2));
  }
  return std::nullopt;
}

}  // namespace

std::optional<PictureSize> picture_size(Bytes bytes) {
  if (bytes.size() > png_start.size() && std::ranges::equal(bytes.first(8), png_start))
    return png_size(bytes);
  if (bytes.size() > 4 && bytes[0] == 0xFF && bytes[1] == 0xD8) return jpeg_size(bytes);
  return std::nullopt;
}

}  // namespace pitwright::photo
