#include "photo/codec.h"

#include <csetjmp>
#include <cstdio>

#include <jpeglib.h>
#include <png.h>

#include "photo/picture_header.h"

namespace pitwright::photo {
namespace {

/// libjpeg ends the program on an error unless its handler jumps.
struct Handler {
  jpeg_error_mgr base;
  std::jmp_buf back;
};

void leave(j_common_ptr state) {
  std::longjmp(reinterpret_cast<Handler*>(state->err)->back, 1);
}

/// Counts warnings (level below 0) and prints nothing.
void count_warnings(j_common_ptr state, int level) {
  if (level < 0) ++state->err->num_warnings;
}

/// Fills `picture`, already of the right size; no object with a destructor lives across the jump.
/// False where the file is broken or cut short.
bool fill_from_jpeg(std::span<const unsigned char> bytes, cv::Mat& picture) {
  jpeg_decompress_struct state;
  Handler handler;
  state.err = jpeg_std_error(&handler.base);
  handler.base.error_exit = leave;
  handler.base.emit_message = count_warnings;
  if (setjmp(handler.back) != 0) {
    jpeg_destroy_decompress(&state);
    return false;
  }
  jpeg_create_decompress(&state);
  jpeg_mem_src(&state, bytes.data(), bytes.size());
  jpeg_read_header(&state, TRUE);
  state.out_color_space = JCS_EXT_BGR;
  jpeg_start_decompress(&state);
  bool fits = static_cast<int>(state.output_width) == picture.cols &&
              static_cast<int>(state.output_height) == picture.rows && state.output_components == 3;
  while (fits && state.output_scanline < state.output_height) {
    unsigned char* row = picture.ptr(static_cast<int>(state.output_scanline));
    jpeg_read_scanlines(&state, &row, 1);
    // A file that ends early is padded with gray by libjpeg, which warns: no photograph for us.
    fits = handler.base.num_warnings == 0;
  }
  if (fits) jpeg_finish_decompress(&state);
  jpeg_destroy_decompress(&state);
  return fits;
}

cv::Mat from_png(std::span<const unsigned char> bytes) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  if (png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()) == 0) return {};
  image.format = PNG_FORMAT_BGR;
  cv::Mat picture(static_cast<int>(image.height), static_cast<int>(image.width), CV_8UC3);
  const png_color under{255, 255, 255};  // what shows through a picture that lets light through
  if (png_image_finish_read(&image, &under, picture.data, static_cast<png_int_32>(picture.step[0]),
                            nullptr) == 0)
    return {};
  return picture;
}

cv::Mat upright(const cv::Mat& picture, int orientation) {
  cv::Mat turned = picture;
  if (orientation >= 5) cv::transpose(picture, turned);
  cv::Mat out = turned;
  switch (orientation) {
    case 2:
    case 6:
      cv::flip(turned, out, 1);
      break;
    case 3:
    case 7:
      cv::flip(turned, out, -1);
      break;
    case 4:
    case 8:
      cv::flip(turned, out, 0);
      break;
    default:
      break;
  }
  return out;
}

}  // namespace

cv::Mat decoded(std::span<const unsigned char> bytes) {
  const auto size = picture_size(bytes);
  if (!size) return {};
  if (bytes[0] != 0xFF) return from_png(bytes);
  cv::Mat picture(size->height, size->width, CV_8UC3);
  if (!fill_from_jpeg(bytes, picture)) return {};
  return upright(picture, exif_orientation(bytes));
}

bool write_png(const std::filesystem::path& path, const cv::Mat& picture) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(picture.cols);
  image.height = static_cast<png_uint_32>(picture.rows);
  image.format = PNG_FORMAT_BGR;
  return png_image_write_to_file(&image, path.c_str(), 0, picture.data,
                                 static_cast<png_int_32>(picture.step[0]), nullptr) != 0;
}

}  // namespace pitwright::photo
