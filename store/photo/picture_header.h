#pragma once

#include <cstddef>
#include <optional>
#include <span>

namespace pitwright::photo {

/// Width and height [pixels] that a file's own header tells.
struct PictureSize {
  int width, height;
};

/// Reads the header of a JPEG or a PNG; nothing for any other file, or a header cut short.
/// Source: ITU-T T.81 annex B (markers SOF0 to SOF15), ISO/IEC 15948 (IHDR).
std::optional<PictureSize> picture_size(std::span<const unsigned char> bytes);

/// How a JPEG's Exif says it is to be turned, 1 (as it lies) to 8; 1 where it says nothing.
/// Source: Exif 2.3 (tag 0x0112), TIFF 6.0; from memory, tested on files that Pillow writes.
int exif_orientation(std::span<const unsigned char> bytes);

}  // namespace pitwright::photo
