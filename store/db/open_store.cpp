#include <cstdlib>
#include <filesystem>
#include <string>

#include <fcntl.h>
#include <unistd.h>

#include "db/sqlite_store.h"

namespace pitwright::db {
namespace {

namespace fs = std::filesystem;

/// Puts a folder's entries on the disk: a new folder would not survive a loss of power without.
void sync_folder(const fs::path& folder) {
  const int opened = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (opened < 0) return;  // then it cannot be listed either; SQLite will say what is wrong
  ::fsync(opened);
  ::close(opened);
}

/// Makes the folders that a new store needs, each on the disk before the next.
Result<void> make_folder(const fs::path& folder) {
  std::error_code problem;
  if (folder.empty() || fs::is_directory(folder, problem)) return {};
  if (auto above = make_folder(folder.parent_path()); !above) return above;
  if (!fs::create_directory(folder, problem) && problem) {
    return fail(ErrorKind::unavailable,
                "{}: the folder for the store cannot be made ({}); name another place with "
                "--database",
                folder.string(), problem.message());
  }
  sync_folder(folder.has_parent_path() ? folder.parent_path() : fs::path("."));
  return {};
}

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

}  // namespace

Result<std::unique_ptr<Store>> open_store(std::string_view where, const Opening& opening) {
  if (where.empty() || where.find('\0') != where.npos) {
    return fail(ErrorKind::bad_input, "a store needs a place, such as --database burns.db");
  }
  if (where.find("://") != where.npos) {
    return fail(ErrorKind::bad_input,
                "{}: this build keeps its store in a file; give the path of one with --database",
                where);
  }
  const fs::path path(where);
  std::error_code unknown;
  if (fs::is_directory(path, unknown)) {
    return fail(ErrorKind::bad_input, "{}: this is a folder; the store is a file, such as {}",
                where, (path / "pitwright.db").string());
  }
  if (opening.make) {
    if (auto made = make_folder(path.parent_path()); !made) return std::unexpected(made.error());
  }
  return answer([&]() -> std::unique_ptr<Store> {
    // As a path from here on: SQLite would read "file:..." and ":memory:" as something else.
    auto plain = path.is_absolute() ? path : fs::path(".") / path;
    return std::make_unique<SqliteStore>(plain.string(), opening);
  });
}

Result<std::string> store_place(std::string_view asked_for) {
  if (!asked_for.empty()) return std::string(asked_for);
  if (auto told = environment("PITWRIGHT_DATABASE"); !told.empty()) return told;
  const fs::path inside = fs::path("pitwright") / "pitwright.db";
  // The XDG Base Directory Specification wants relative paths in it ignored.
  const fs::path data = environment("XDG_DATA_HOME");
  if (data.is_absolute()) return (data / inside).string();
  const fs::path home = environment("HOME");
  if (home.empty()) {
    return fail(ErrorKind::not_found,
                "there is no home directory to keep the store in; name a place with --database");
  }
  return (home / ".local" / "share" / inside).string();
}

}  // namespace pitwright::db
