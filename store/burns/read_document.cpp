#include "burns/read_document.h"

#include <utility>

namespace pitwright::burns {

Result<std::filesystem::path> document_path(const std::filesystem::path& path) {
  std::error_code problem;
  if (std::filesystem::is_directory(path, problem)) {
    const auto inside = path / "burn.toml";
    if (std::filesystem::is_regular_file(inside, problem)) return inside;
    return fail(ErrorKind::not_found,
                "{}: there is no burn.toml in it; 'pitwright begin LOG... -o DIR' drafts one",
                path.string());
  }
  if (std::filesystem::is_regular_file(path, problem)) return path;
  return fail(ErrorKind::not_found, "{}: there is no such burn", path.string());
}

Result<std::vector<logs::Log>> read_logs(const documents::BurnDocument& document) {
  std::vector<logs::Log> all;
  for (const auto& spec : document.logs) {
    auto log = logs::read_log(document.path.parent_path() / spec.file, spec.hints);
    if (!log && log.error().kind == ErrorKind::not_found) {
      return fail(ErrorKind::not_found, "{}: {}", document.at(spec.place), log.error().what);
    }
    if (!log) return std::unexpected(log.error());
    all.push_back(*std::move(log));
  }
  return all;
}

}  // namespace pitwright::burns
