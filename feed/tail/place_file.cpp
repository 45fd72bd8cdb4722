#include <fstream>

#include "tail/follower.h"

namespace pitwright::feed {

Result<void> save_place(const std::filesystem::path& file, const FilePlace& place) {
  auto scratch = file;
  scratch += ".new";
  std::ofstream out(scratch, std::ios::trunc);
  out << place.inode << ' ' << place.offset << ' ' << place.head << ' ' << place.head_bytes << ' '
      << place.table << '\n';
  out.close();
  std::error_code problem;
  if (out) std::filesystem::rename(scratch, file, problem);
  if (out && !problem) return {};
  return fail(ErrorKind::unavailable, "{}: cannot be written", file.string());
}

std::optional<FilePlace> load_place(const std::filesystem::path& file) {
  std::ifstream in(file);
  FilePlace place;
  if (in >> place.inode >> place.offset >> place.head >> place.head_bytes >> place.table &&
      place.offset >= 0 && place.head_bytes >= 0 && place.head_bytes <= 4096 && place.table >= 0 &&
      place.table <= place.offset) {
    return place;
  }
  return std::nullopt;
}

}  // namespace pitwright::feed
