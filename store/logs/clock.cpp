#include "logs/clock.h"

#include <cmath>
#include <cstring>

#include <fmt/format.h>

#include "logs/number.h"

namespace pitwright::logs {
namespace {

constexpr std::int64_t day_ms = 86'400'000;
/// Latest and earliest time a number may mean [ms]: the year 3000, and as far before 1970.
constexpr double farthest_ms = 32'503'680'000'000.0;

std::string shown(std::string_view cell) {
  return fmt::format("'{}{}'", cell.substr(0, 40), cell.size() > 40 ? "..." : "");
}

unsigned digit(char c) {
  return static_cast<unsigned>(c) - unsigned{'0'};
}

/// Two digits, or something above 99.
unsigned two_digits(const char* p) {
  const auto tens = digit(p[0]), ones = digit(p[1]);
  return tens > 9 || ones > 9 ? 100 : tens * 10 + ones;
}

std::int64_t wall_day_ms(Instant zero, Zone zone) {
  // The wall's date at `zero`: the wall is at most a day from UTC, so walk down to the midnight
  // whose moment is not after zero.
  const auto ms = zero.time_since_epoch().count();
  auto day = (ms / day_ms + 1) * day_ms;
  for (int i = 0; i < 3; ++i, day -= day_ms) {
    auto fresh = zone;
    const auto midnight = fresh.utc(day);
    if (midnight && *midnight <= ms) return day;
  }
  return day;
}

}  // namespace

Result<Clock> Clock::make(const TimeForm& form, const Hints& hints, char decimal) {
  auto zone = Zone::named(hints.timezone);
  if (!zone) return std::unexpected(zone.error());
  Clock clock(form, *zone, decimal);
  clock.shift_ms_ = std::llround(hints.offset.count() * 1000.0);
  const bool elapsed =
      form.kind == TimeForm::Kind::elapsed || form.kind == TimeForm::Kind::elapsed_clock;
  if (elapsed && hints.zero) clock.shift_ms_ += hints.zero->time_since_epoch().count();
  if (form.kind == TimeForm::Kind::time_of_day && hints.zero) {
    clock.start_day_ms_ = wall_day_ms(*hints.zero, *zone);
  }
  if ((elapsed || form.kind == TimeForm::Kind::time_of_day) && !hints.zero) {
    clock.stamps_ = Stamps::elapsed;
  }
  return clock;
}

std::nullopt_t Clock::refuse(std::string_view cell, std::string_view why) {
  reason_ = cell.empty() ? "no time" : fmt::format("{} {}", shown(cell), why);
  return std::nullopt;
}

std::optional<std::int64_t> Clock::on_wall(std::int64_t wall_ms, std::string_view cell) {
  zone_used_ = true;
  const auto ms = zone_.utc(wall_ms);
  if (!ms) return refuse(cell, "never was: clocks went forward over it");
  return *ms + shift_ms_;
}

/// Time of day as time since the first midnight: back by more than half a day is a new day.
std::int64_t Clock::unrolled(std::int64_t clock_ms) {
  if (last_clock_ms_ >= 0) {
    if (clock_ms < last_clock_ms_ - day_ms / 2) rolled_ms_ += day_ms;
    if (clock_ms > last_clock_ms_ + day_ms / 2 && rolled_ms_ > 0) rolled_ms_ -= day_ms;
  }
  last_clock_ms_ = clock_ms;
  return rolled_ms_ + clock_ms;
}

/// A cell shaped like the one before, with the same date and the same end: only the clock is read.
std::optional<std::int64_t> Clock::quick(std::string_view cell) {
  if (!can_be_quick_ || cell.size() != last_.size()) return std::nullopt;
  const auto& stamp = last_stamp_;
  const char* p = cell.data();
  if (std::memcmp(p, last_.data(), stamp.clock_at) != 0 ||
      std::memcmp(p + stamp.clock_end, last_.data() + stamp.clock_end,
                  cell.size() - stamp.clock_end) != 0) {
    return std::nullopt;
  }
  const char* const clock = p + stamp.clock_at;
  const auto hour = two_digits(clock), minute = two_digits(clock + 3);
  if (clock[2] != ':' || hour > 23 || minute > 59) return std::nullopt;
  std::int64_t ms = (hour * 60LL + minute) * 60'000;
  if (stamp.has_seconds) {
    const auto second = two_digits(clock + 6);
    if (clock[5] != ':' || second > 59) return std::nullopt;
    ms += second * 1000LL;
    std::int64_t unit = 100;
    for (std::size_t i = 0; i < stamp.fraction_digits; ++i, unit /= 10) {
      const auto d = digit(p[stamp.fraction_at + i]);
      if (d > 9) return std::nullopt;
      ms += d * unit;
    }
    if (stamp.fraction_digits > 0 && p[stamp.fraction_at - 1] != last_[stamp.fraction_at - 1]) {
      return std::nullopt;
    }
  }
  const auto wall = stamp.days * day_ms + ms;
  if (!stamp.has_offset) return on_wall(wall, cell);
  return wall - stamp.offset_min * 60'000LL + shift_ms_;
}

std::optional<std::int64_t> Clock::written(std::string_view cell, std::string_view clock_cell) {
  Stamp stamp;
  if (!parse_stamp(cell, form_.order, stamp)) {
    return refuse(cell, "is not a time like those of the other rows");
  }
  if (form_.clock_column >= 0) {
    Stamp clock;
    if (!parse_stamp(clock_cell, form_.order, clock) || !clock.has_clock || clock.has_date) {
      return refuse(clock_cell, "is not a time of day");
    }
    stamp.has_clock = true;
    stamp.clock_ms = clock.clock_ms;
    stamp.has_offset = clock.has_offset;
    stamp.offset_min = clock.offset_min;
  }
  using Kind = TimeForm::Kind;
  const bool dated = form_.kind == Kind::date_time;
  if (stamp.has_date != dated || (!dated && !stamp.has_clock)) {
    return refuse(cell, dated ? "has no date" : "is not a time like those of the other rows");
  }
  if (form_.kind == Kind::elapsed_clock) {
    const bool minutes = form_.minutes_first && !stamp.has_seconds;
    return (minutes ? stamp.clock_ms / 60 : stamp.clock_ms) + shift_ms_;
  }
  if (form_.kind == Kind::time_of_day) {
    if (stamp.clock_ms >= day_ms) return refuse(cell, "is not a time of day");
    const auto since_midnight = unrolled(stamp.clock_ms);
    if (!start_day_ms_) return since_midnight + shift_ms_;
    return on_wall(*start_day_ms_ + since_midnight, cell);
  }
  const auto wall = stamp.days * day_ms + stamp.clock_ms;
  can_be_quick_ = form_.clock_column < 0 && stamp.clock_at > 0 && stamp.hour_digits == 2 &&
                  !stamp.meridiem && cell[stamp.clock_at + 2] == ':';
  last_ = cell;
  last_stamp_ = stamp;
  if (!stamp.has_offset) return on_wall(wall, cell);
  offset_seen_ = true;
  return wall - stamp.offset_min * 60'000LL + shift_ms_;
}

std::optional<std::int64_t> Clock::number(std::string_view cell) {
  const auto value = parse_decimal(cell, decimal_);
  if (!value) return refuse(cell, "is not a time: a number was expected");
  const double ms = *value * form_.unit_ms;
  if (!(std::abs(ms) < farthest_ms)) return refuse(cell, "is no time: far outside any log");
  return std::llround(ms) + shift_ms_;
}

std::optional<std::int64_t> Clock::read(std::string_view cell, std::string_view clock_cell) {
  if (form_.kind == TimeForm::Kind::elapsed || form_.kind == TimeForm::Kind::epoch) {
    return number(cell);
  }
  if (const auto ms = quick(cell)) return ms;
  return written(cell, clock_cell);
}

bool Clock::could_read(std::string_view cell) const {
  if (form_.kind == TimeForm::Kind::elapsed || form_.kind == TimeForm::Kind::epoch) {
    return parse_decimal(cell, decimal_).has_value();
  }
  Stamp stamp;
  return parse_stamp(cell, form_.order, stamp);
}

}  // namespace pitwright::logs
