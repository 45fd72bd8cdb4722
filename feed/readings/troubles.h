#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <mutex>
#include <string>
#include <string_view>

#include "readings/reading.h"

namespace pitwright::feed {

/// Says every trouble once and counts the rest of its kind. May be used from any thread.
class Troubles {
 public:
  explicit Troubles(Say say) : say_(std::move(say)) {}

  /// Says `text`, unless `kind` was said already. Kinds beyond the first thousand are counted
  /// together: what others send must not fill the memory.
  void once(std::string_view kind, std::string_view text);
  /// Says `text` now.
  void now(std::string_view text);
  /// What `kind` was about is over: the next time it is said again.
  void over(std::string_view kind);

  std::int64_t total() const;

 private:
  static constexpr std::size_t most_kinds = 1000;
  mutable std::mutex mutex_;
  Say say_;
  std::map<std::string, std::int64_t, std::less<>> seen_;
  std::int64_t total_ = 0;
};

/// Bytes that others sent, fit to be shown: at most 60, control characters as '?'.
std::string shown(std::string_view bytes);

}  // namespace pitwright::feed
