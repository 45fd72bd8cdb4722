#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "base/result.h"

namespace pitwright::feed {

/// How far a file was read, kept between two runs.
struct FilePlace {
  std::uint64_t inode = 0;
  std::int64_t offset = 0;      ///< of the first byte not used yet
  std::uint64_t head = 0;       ///< fingerprint of the first bytes
  std::int64_t head_bytes = 0;  ///< how many of them
  std::int64_t table = 0;       ///< where the table at hand begins: its header
};

/// Follows a file that another program writes: gives whole lines as they are completed, through
/// rotation (renamed, and a new file in its place), truncation and being written anew.
class Follower {
 public:
  explicit Follower(std::filesystem::path path) : path_(std::move(path)) {}
  Follower(const Follower&) = delete;
  Follower& operator=(const Follower&) = delete;
  ~Follower();

  /// Goes on where an earlier run was. Where the file was renamed meanwhile, its rest is read
  /// first: it is looked for among its neighbors. Before the first lines().
  void resume(const FilePlace& place);

  /// Begins the file at hand again.
  void rewind() { restart(0); }

  struct Lines {
    std::string text;         ///< whole lines, at most about a megabyte; may be empty
    bool from_start = false;  ///< a file begins with them: what was known of the table is void
  };
  /// What is new. Fails: unavailable (not there yet, not readable).
  Result<Lines> lines();

  /// Where the lines given so far end.
  FilePlace place();
  /// Bytes of the file at hand, at most `most`.
  std::string bytes(std::int64_t from, std::size_t most) const;

 private:
  Result<void> open(const std::filesystem::path& path);
  void close();
  bool replaced() const;
  bool rewritten() const;
  std::uint64_t fingerprint(std::int64_t bytes) const;
  void restart(std::int64_t offset);

  static constexpr std::int64_t most_head = 256;
  std::filesystem::path path_;
  int fd_ = -1;
  std::uint64_t inode_ = 0;
  std::int64_t offset_ = 0;
  std::int64_t head_bytes_ = 0;
  std::uint64_t head_ = 0;
  bool starts_ = true;
};

/// "inode offset head head_bytes table" in one small file, replaced as a whole. Fails: unavailable.
Result<void> save_place(const std::filesystem::path& file, const FilePlace& place);
/// nullopt where there is none, or none that can be read.
std::optional<FilePlace> load_place(const std::filesystem::path& file);

}  // namespace pitwright::feed
