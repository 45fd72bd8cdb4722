#include "keeping/unpack.h"

#include <fstream>

#include <stdlib.h>

namespace pitwright::keeping {
namespace {

namespace fs = std::filesystem;

Result<void> write(const fs::path& path, const std::string& bytes) {
  std::error_code problem;
  fs::create_directories(path.parent_path(), problem);
  std::ofstream out(path, std::ios::binary);
  out << bytes;
  out.close();
  if (!out) return fail(ErrorKind::unavailable, "{}: cannot be written", path.string());
  return {};
}

}  // namespace

Result<TemporaryDirectory> TemporaryDirectory::in(const fs::path& place) {
  std::string name = (place / "pitwright-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) {
    return fail(ErrorKind::unavailable, "{}: no folder can be made in it", place.string());
  }
  return TemporaryDirectory(name);
}

TemporaryDirectory::~TemporaryDirectory() {
  std::error_code ignored;
  if (!path_.empty()) fs::remove_all(path_, ignored);
}

Result<fs::path> unpack(std::span<const db::KeptFile> files, const fs::path& directory) {
  std::error_code problem;
  if (fs::exists(directory, problem) && !fs::is_empty(directory, problem)) {
    return fail(ErrorKind::conflict,
                "{}: there is something there already; name a directory that is new or empty",
                directory.string());
  }
  auto plain = fs::absolute(directory).lexically_normal();
  if (!plain.has_filename()) plain = plain.parent_path();  // it was written with a slash at its end
  const auto above = plain.parent_path();
  fs::create_directories(above, problem);
  const auto aside = TemporaryDirectory::in(above);
  if (!aside) return std::unexpected(aside.error());
  const auto whole = aside->path() / plain.filename();
  for (const auto& file : files) {
    if (auto written = write(whole / file.path, file.bytes); !written) {
      return std::unexpected(written.error());
    }
  }
  fs::rename(whole, plain, problem);
  if (problem) {
    return fail(ErrorKind::unavailable, "{}: cannot be written ({})", directory.string(),
                problem.message());
  }
  return directory / files.front().path;
}

}  // namespace pitwright::keeping
