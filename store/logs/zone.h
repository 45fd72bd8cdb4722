#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>

#include "base/result.h"

namespace date {
class time_zone;
}

namespace pitwright::logs {

/// Turns wall-clock time of one place into UTC, row after row.
///
/// In autumn an hour passes twice: of its two moments the one nearer to what the rows before lead
/// to is taken. In spring an hour never is: such a time gives nullopt.
class Zone {
 public:
  /// An IANA name ("America/Chicago"); empty: UTC. Fails: bad_input for a name nobody knows.
  static Result<Zone> named(const std::string& name);

  /// [ms] of UTC for wall-clock [ms] since 1970-01-01T00:00 on the wall.
  std::optional<std::int64_t> utc(std::int64_t wall_ms) {
    if (wall_ms >= plain_from_ && wall_ms < plain_to_) {
      const auto ms = wall_ms - plain_offset_;
      step_ = previous_ == never || ms <= previous_ ? step_ : ms - previous_;
      previous_ = ms;
      return ms;
    }
    return near_change(wall_ms);
  }

  /// Rows whose wall-clock time passed twice.
  std::int64_t twice() const { return twice_; }

 private:
  static constexpr std::int64_t never = std::numeric_limits<std::int64_t>::min();
  std::optional<std::int64_t> near_change(std::int64_t wall_ms);

  const date::time_zone* zone_ = nullptr;                               ///< null: UTC
  std::int64_t plain_from_ = std::numeric_limits<std::int64_t>::min();  ///< one offset holds here
  std::int64_t plain_to_ = std::numeric_limits<std::int64_t>::max();
  std::int64_t plain_offset_ = 0;
  std::int64_t previous_ = never;
  std::int64_t step_ = 0;
  std::int64_t twice_ = 0;
};

}  // namespace pitwright::logs
