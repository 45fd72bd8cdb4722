#pragma once

#include <filesystem>
#include <string>

#include "base/result.h"
#include "picture/svg.h"

namespace pitwright::picture {

/// The picture as a PNG file's bytes, two pixels a px; fewer where that would be more than 30,000
/// pixels a side. Fails: unavailable where the library cannot draw it.
Result<std::string> png_of(const Picture& picture);

/// The picture as a PDF file's bytes, one page, 96 px an inch. Fails like png_of.
Result<std::string> pdf_of(const Picture& picture);

enum class FileKind { svg, png, pdf };

/// Writes the picture to a file, whatever its name.
/// Fails: unavailable, naming the file and the system's reason, where it cannot be written whole.
Result<void> write_picture(const Picture& picture, const std::filesystem::path& file,
                           FileKind kind);

/// The same; the file's ending says how: .svg, .png or .pdf. Fails: bad_input for another ending.
Result<void> write_picture(const Picture& picture, const std::filesystem::path& file);

}  // namespace pitwright::picture
