#include "picture/render.h"

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <fstream>
#include <memory>

#include <cairo-pdf.h>
#include <cairo.h>
#include <librsvg/rsvg.h>

namespace pitwright::picture {
namespace {

struct Unref {
  void operator()(RsvgHandle* handle) const { g_object_unref(handle); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
};

using Surface = std::unique_ptr<cairo_surface_t, Unref>;

cairo_status_t collect(void* into, const unsigned char* bytes, unsigned int count) {
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-reinterpret-cast): cairo hands out unsigned bytes
  static_cast<std::string*>(into)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

std::string said_by(GError* error) {
  if (error == nullptr) return "no reason given";
  std::string text = error->message;
  g_error_free(error);
  return text;
}

/// Draws the picture to fill `width` by `height` units of the surface.
Result<void> draw_on(cairo_surface_t* surface, const Picture& picture, double width,
                     double height) {
  GError* error = nullptr;
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-reinterpret-cast): librsvg takes unsigned bytes
  const auto* bytes = reinterpret_cast<const guint8*>(picture.svg.data());
  const std::unique_ptr<RsvgHandle, Unref> handle(
      rsvg_handle_new_from_data(bytes, picture.svg.size(), &error));
  if (!handle) {
    return fail(ErrorKind::unavailable, "the picture cannot be drawn: {}", said_by(error));
  }
  const std::unique_ptr<cairo_t, Unref> context(cairo_create(surface));
  const RsvgRectangle all = {0.0, 0.0, width, height};
  if (rsvg_handle_render_document(handle.get(), context.get(), &all, &error) == FALSE) {
    return fail(ErrorKind::unavailable, "the picture cannot be drawn: {}", said_by(error));
  }
  return {};
}

Result<void> expect_fine(cairo_status_t status) {
  if (status == CAIRO_STATUS_SUCCESS) return {};
  return fail(ErrorKind::unavailable, "the picture cannot be drawn: {}",
              cairo_status_to_string(status));
}

}  // namespace

Result<std::string> png_of(const Picture& picture) {
  constexpr double usual_zoom = 2.0, most_pixels = 30000.0;
  const double zoom =
      std::min(usual_zoom, most_pixels / (1.0 + std::max(picture.width, picture.height)));
  const double width = std::ceil(picture.width * zoom), height = std::ceil(picture.height * zoom);
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, static_cast<int>(width),
                                                   static_cast<int>(height)));
  auto fine = expect_fine(cairo_surface_status(surface.get()));
  if (fine) fine = draw_on(surface.get(), picture, width, height);
  std::string bytes;
  if (fine) fine = expect_fine(cairo_surface_write_to_png_stream(surface.get(), &collect, &bytes));
  if (!fine) return std::unexpected(fine.error());
  return bytes;
}

Result<std::string> pdf_of(const Picture& picture) {
  constexpr double points_per_px = 72.0 / 96.0;
  const double width = picture.width * points_per_px, height = picture.height * points_per_px;
  std::string bytes;
  {
    const Surface surface(cairo_pdf_surface_create_for_stream(&collect, &bytes, width, height));
    auto fine = expect_fine(cairo_surface_status(surface.get()));
    if (fine) fine = draw_on(surface.get(), picture, width, height);
    cairo_surface_finish(surface.get());
    if (fine) fine = expect_fine(cairo_surface_status(surface.get()));
    if (!fine) return std::unexpected(fine.error());
  }
  return bytes;
}

Result<void> write_picture(const Picture& picture, const std::filesystem::path& file,
                           FileKind kind) {
  const auto bytes = kind == FileKind::png   ? png_of(picture)
                     : kind == FileKind::pdf ? pdf_of(picture)
                                             : Result<std::string>(picture.svg);
  if (!bytes) return std::unexpected(bytes.error());
  errno = 0;
  std::ofstream out(file, std::ios::binary);
  out.write(bytes->data(), static_cast<std::streamsize>(bytes->size()));
  out.close();
  if (!out) {
    const int reason = errno;
    return fail(ErrorKind::unavailable, "cannot write '{}': {}", file.string(),
                reason == 0 ? "the system gives no reason" : std::strerror(reason));
  }
  return {};
}

Result<void> write_picture(const Picture& picture, const std::filesystem::path& file) {
  const auto ending = file.extension().string();
  if (ending == ".svg") return write_picture(picture, file, FileKind::svg);
  if (ending == ".png") return write_picture(picture, file, FileKind::png);
  if (ending == ".pdf") return write_picture(picture, file, FileKind::pdf);
  return fail(ErrorKind::bad_input, "'{}' must end in .svg, .png or .pdf", file.string());
}

}  // namespace pitwright::picture
