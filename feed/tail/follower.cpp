#include "tail/follower.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace pitwright::feed {
namespace {

constexpr std::size_t most_bytes = std::size_t{1} << 20;

std::string bytes_at(int fd, std::int64_t offset, std::size_t most) {
  std::string bytes(most, '\0');
  std::size_t have = 0;
  while (have < most) {
    const auto n = ::pread(fd, bytes.data() + have, most - have,
                           static_cast<off_t>(offset) + static_cast<off_t>(have));
    if (n <= 0) break;
    have += static_cast<std::size_t>(n);
  }
  bytes.resize(have);
  return bytes;
}

}  // namespace

Follower::~Follower() {
  close();
}

void Follower::close() {
  if (fd_ >= 0) ::close(fd_);
  fd_ = -1;
}

Result<void> Follower::open(const std::filesystem::path& path) {
  close();
  fd_ = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  struct stat about {};
  if (fd_ < 0 || ::fstat(fd_, &about) != 0) {
    const int why = errno;
    close();
    return fail(ErrorKind::unavailable, "{}: {}", path.string(), std::strerror(why));
  }
  if (!S_ISREG(about.st_mode)) {
    close();
    return fail(ErrorKind::unavailable, "{}: not a file", path.string());
  }
  inode_ = about.st_ino;
  restart(0);
  return {};
}

void Follower::restart(std::int64_t offset) {
  offset_ = offset;
  starts_ = true;
  head_bytes_ = 0;
}

std::uint64_t Follower::fingerprint(std::int64_t bytes) const {
  std::uint64_t hash = 0xcbf29ce484222325U;  // FNV-1a, from memory
  for (const char c : bytes_at(fd_, 0, static_cast<std::size_t>(bytes))) {
    hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  }
  return hash;
}

void Follower::resume(const FilePlace& place) {
  const auto fits = [&](const std::filesystem::path& path) {
    if (!open(path)) return false;
    if (inode_ != place.inode || fingerprint(place.head_bytes) != place.head) return false;
    struct stat about {};
    return ::fstat(fd_, &about) == 0 && about.st_size >= place.offset;
  };
  bool found = fits(path_);
  std::error_code problem;
  if (!found) {
    for (const auto& neighbor : std::filesystem::directory_iterator(path_.parent_path(), problem)) {
      struct stat about {};
      const bool same = ::stat(neighbor.path().c_str(), &about) == 0 && about.st_ino == place.inode;
      if (same && neighbor.path() != path_) found = fits(neighbor.path());
      if (found) break;
    }
  }
  if (!found) return close();
  offset_ = place.offset;
  head_ = place.head;
  head_bytes_ = place.head_bytes;
  starts_ = false;
}

bool Follower::replaced() const {
  struct stat about {};
  return ::stat(path_.c_str(), &about) == 0 && about.st_ino != inode_;
}

bool Follower::rewritten() const {
  struct stat about {};
  if (::fstat(fd_, &about) != 0 || about.st_size < offset_) return true;
  return head_bytes_ > 0 && fingerprint(head_bytes_) != head_;
}

Result<Follower::Lines> Follower::lines() {
  if (fd_ < 0) {
    if (const auto opened = open(path_); !opened) return std::unexpected(opened.error());
  }
  const bool moved_on = replaced();  // looked at first: what is written before is still read
  if (!moved_on && rewritten()) restart(0);
  auto text = bytes_at(fd_, offset_, most_bytes);
  const bool at_end = text.size() < most_bytes;
  const auto end = text.rfind('\n');
  const bool ends_open = end == text.npos ? !text.empty() : end + 1 < text.size();
  if (end == text.npos && !at_end) {
    text.clear();  // a megabyte without a line end is no table; it is passed over
    offset_ += static_cast<std::int64_t>(most_bytes);
  } else if (moved_on && at_end && ends_open) {
    offset_ += static_cast<std::int64_t>(text.size());  // nobody will end this line
    text += '\n';
  } else {
    text.resize(end == text.npos ? 0 : end + 1);
    offset_ += static_cast<std::int64_t>(text.size());
  }
  Lines lines{std::move(text), false};
  if (!lines.text.empty()) lines.from_start = std::exchange(starts_, false);
  if (moved_on && at_end) {
    close();
    if (lines.text.empty()) return this->lines();
  }
  return lines;
}

FilePlace Follower::place() {
  if (fd_ < 0) return {};
  if (const auto bytes = std::min(offset_, most_head); bytes > head_bytes_) {
    head_bytes_ = bytes;
    head_ = fingerprint(bytes);
  }
  return {inode_, offset_, head_, head_bytes_, 0};
}

std::string Follower::bytes(std::int64_t from, std::size_t most) const {
  return fd_ < 0 ? std::string() : bytes_at(fd_, from, most);
}

}  // namespace pitwright::feed
