#include "photo/photo.h"

namespace pitwright::photo {
namespace {

std::unexpected<Error> no_reader() {
  return fail(ErrorKind::unavailable,
              "this build has no photo reader: install libopencv-imgproc-dev, "
              "libjpeg62-turbo-dev and libpng-dev, configure and build again");
}

}  // namespace

bool has_reader() {
  return false;
}

Result<Seen> read_photo(const std::filesystem::path&, const Scene&) {
  return no_reader();
}

Result<void> draw_found(const std::filesystem::path&, const Scene&, const Seen&,
                        const std::filesystem::path&) {
  return no_reader();
}

}  // namespace pitwright::photo
