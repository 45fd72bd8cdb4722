#include "mqtt/mid_ledger.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>

#include <fcntl.h>
#include <unistd.h>

namespace pitwright::feed {
namespace {

/// FNV-1a, 64 bits. Source: G. Fowler, L. C. Noll, K.-P. Vo, IETF draft-eastlake-fnv, from memory.
std::uint64_t fingerprint_of(std::string_view topic, std::string_view payload) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  const auto take = [&hash](std::string_view text) {
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  };
  take(topic);
  take(std::string_view("\0", 1));
  take(payload);
  return hash;
}

}  // namespace

Result<MidLedger> MidLedger::open(const std::filesystem::path& file) {
  MidLedger ledger;
  const auto failed = [&file] {
    return fail(ErrorKind::unavailable, "{}: {}", file.string(), std::strerror(errno));
  };
  ledger.fd_ = ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (ledger.fd_ < 0) return failed();
  const auto size = static_cast<off_t>(identifiers * sizeof(Entry));
  if (::ftruncate(ledger.fd_, size) != 0) return failed();
  auto* const to = reinterpret_cast<char*>(ledger.entries_.data());
  for (off_t at = 0; at < size;) {
    const auto n = ::pread(ledger.fd_, to + at, static_cast<std::size_t>(size - at), at);
    if (n <= 0) return failed();
    at += n;
  }
  for (const auto& entry : ledger.entries_) ledger.newest_ = std::max(ledger.newest_, entry.number);
  return ledger;
}

MidLedger::MidLedger(MidLedger&& other) noexcept {
  *this = std::move(other);
}

MidLedger& MidLedger::operator=(MidLedger&& other) noexcept {
  std::swap(fd_, other.fd_);
  std::swap(entries_, other.entries_);
  std::swap(noted_, other.noted_);
  std::swap(fresh_, other.fresh_);
  std::swap(newest_, other.newest_);
  std::swap(may_come_after_, other.may_come_after_);
  return *this;
}

MidLedger::~MidLedger() {
  if (fd_ >= 0) ::close(fd_);
}

void MidLedger::begin(bool same_session) {
  fresh_.assign(identifiers, false);
  may_come_after_ = same_session ? std::max<std::int64_t>(newest_ - lately, 0) : newest_;
}

Moment MidLedger::arrival(int id, bool maybe_again, std::string_view topic,
                          std::string_view payload, Moment now) {
  const auto place = static_cast<std::size_t>(id) % identifiers;
  auto& entry = entries_[place];
  const auto fingerprint = fingerprint_of(topic, payload);
  const bool again = maybe_again && !fresh_[place] && entry.number > may_come_after_ &&
                     entry.fingerprint == fingerprint;
  fresh_[place] = true;
  if (!again) entry = {fingerprint, now.time_since_epoch().count(), 0};
  entry.number = ++newest_;  // one that came again may come once more
  noted_.push_back(static_cast<int>(place));
  return Moment(std::chrono::microseconds(entry.at_us));
}

Result<void> MidLedger::sync() {
  if (fd_ < 0 || noted_.empty()) {
    noted_.clear();
    return {};
  }
  for (const int place : noted_) {
    const auto at = static_cast<off_t>(static_cast<std::size_t>(place) * sizeof(Entry));
    if (::pwrite(fd_, &entries_[static_cast<std::size_t>(place)], sizeof(Entry), at) !=
        static_cast<ssize_t>(sizeof(Entry))) {
      return fail(ErrorKind::unavailable, "what arrived cannot be noted: {}", std::strerror(errno));
    }
  }
  if (::fdatasync(fd_) != 0) {
    return fail(ErrorKind::unavailable, "what arrived cannot be noted: {}", std::strerror(errno));
  }
  noted_.clear();
  return {};
}

}  // namespace pitwright::feed
