#include "db/squeeze.h"

#include <zlib.h>

#include "base/expects.h"

namespace pitwright::db {

std::string squeezed(std::string_view bytes) {
  auto size = compressBound(bytes.size());
  std::string packed(size, '\0');
  const int code =
      compress2(reinterpret_cast<Bytef*>(packed.data()), &size,
                reinterpret_cast<const Bytef*>(bytes.data()), bytes.size(), Z_DEFAULT_COMPRESSION);
  expects(code == Z_OK);  // the buffer is large enough; zlib fails for want of memory alone
  packed.resize(size);
  return packed;
}

std::optional<std::string> unsqueezed(std::string_view packed, std::size_t size) {
  std::string bytes(size, '\0');
  uLongf got = size;
  const int code = uncompress(reinterpret_cast<Bytef*>(bytes.data()), &got,
                              reinterpret_cast<const Bytef*>(packed.data()), packed.size());
  if (code != Z_OK || got != size) return std::nullopt;
  return bytes;
}

}  // namespace pitwright::db
