#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"
#include "logs/log.h"
#include "logs/stamps.h"
#include "logs/zone.h"

namespace pitwright::logs {

/// How a file writes its times.
struct TimeForm {
  enum class Kind {
    date_time,      ///< date and time of day, in one cell or two
    time_of_day,    ///< no date; a new day begins where the clock falls back
    elapsed_clock,  ///< h:mm:ss since the start
    elapsed,        ///< a number since the start
    epoch           ///< a number since 1970-01-01T00:00Z
  };
  Kind kind = Kind::date_time;
  int column = 0;         ///< 0-based
  int clock_column = -1;  ///< of the time of day, where date and time are split; -1: they are not
  DateOrder order = DateOrder::year_first;
  double unit_ms = 1000.0;     ///< of elapsed and epoch numbers
  bool minutes_first = false;  ///< elapsed_clock is mm:ss
};

/// Reads the time of each row.
class Clock {
 public:
  /// Fails: bad_input for an unknown time zone.
  static Result<Clock> make(const TimeForm& form, const Hints& hints, char decimal);

  /// [ms] of a row, from its time cell and, where date and time are split, the other one; nullopt:
  /// not a time of this file's form (see reason()). Pre: cells are trimmed.
  std::optional<std::int64_t> read(std::string_view cell, std::string_view clock_cell);

  /// Whether `cell` could be the time (or date) of a row, whatever came before.
  bool could_read(std::string_view cell) const;

  const std::string& reason() const { return reason_; }
  Stamps stamps() const { return stamps_; }
  const TimeForm& form() const { return form_; }
  /// Whether rows without an offset of their own were read.
  bool zone_used() const { return zone_used_; }
  bool offset_seen() const { return offset_seen_; }
  std::int64_t twice() const { return zone_.twice(); }

 private:
  Clock(const TimeForm& form, Zone zone, char decimal)
      : form_(form), decimal_(decimal), zone_(zone) {}
  std::optional<std::int64_t> quick(std::string_view cell);
  std::optional<std::int64_t> written(std::string_view cell, std::string_view clock_cell);
  std::optional<std::int64_t> number(std::string_view cell);
  std::optional<std::int64_t> on_wall(std::int64_t wall_ms, std::string_view cell);
  std::int64_t unrolled(std::int64_t clock_ms);
  std::nullopt_t refuse(std::string_view cell, std::string_view why);

  TimeForm form_;
  char decimal_;
  Zone zone_;
  Stamps stamps_ = Stamps::instants;
  std::int64_t shift_ms_ = 0;                 ///< zero of elapsed times, and the hint's offset
  std::optional<std::int64_t> start_day_ms_;  ///< midnight before a time of day's first row
  std::int64_t rolled_ms_ = 0;                ///< whole days since the first row
  std::int64_t last_clock_ms_ = -1;
  bool zone_used_ = false;
  bool offset_seen_ = false;
  std::string reason_;

  // The row before, as written, and what it said.
  std::string last_;
  Stamp last_stamp_;
  bool can_be_quick_ = false;
};

}  // namespace pitwright::logs
