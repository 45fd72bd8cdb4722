#pragma once

#include <filesystem>
#include <span>

#include "base/result.h"
#include "db/store.h"

namespace pitwright::keeping {

/// Writes a kept burn's files into a directory that is not there yet, or is empty: all of them, or
/// none. Gives the path of the first file, the document.
/// Fails: conflict where the directory holds something; unavailable where it cannot be written.
Result<std::filesystem::path> unpack(std::span<const db::KeptFile> files,
                                     const std::filesystem::path& directory);

/// A directory that is gone with this value.
class TemporaryDirectory {
 public:
  /// A new one in `place`, a directory that is there. Fails: unavailable.
  static Result<TemporaryDirectory> in(const std::filesystem::path& place);

  explicit TemporaryDirectory(std::filesystem::path path) : path_(std::move(path)) {}
  TemporaryDirectory(TemporaryDirectory&& other) noexcept : path_(std::move(other.path_)) {
    other.path_.clear();
  }
  TemporaryDirectory& operator=(TemporaryDirectory&&) = delete;
  ~TemporaryDirectory();

  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

}  // namespace pitwright::keeping
