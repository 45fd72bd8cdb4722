#include "burns/clock_checks.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <optional>

#include <fmt/format.h>

#include "burns/channels.h"
#include "burns/clocks.h"
#include "documents/time_text.h"
#include "documents/zones.h"
#include "series/clock_offset.h"

namespace pitwright::burns {
namespace {

using documents::BurnDocument;

constexpr std::int64_t hour_ms = 3'600'000;
constexpr double untold_search_s = 900.0;

/// A log's first and last sample on the common time line.
struct Span {
  std::int64_t from_ms = 0;
  std::int64_t to_ms = 0;
};

std::int64_t common_of(const Span& a, const Span& b, std::int64_t shift_b = 0) {
  return std::min(a.to_ms, b.to_ms + shift_b) - std::max(a.from_ms, b.from_ms + shift_b);
}

std::optional<Span> span_of(const logs::Log& log, const ClockTie& tie) {
  const auto range = stamp_range(log);
  if (!range) return std::nullopt;
  return Span{tie.common_ms(range->first_ms), tie.common_ms(range->last_ms)};
}

std::string span_text(const BurnDocument& document, const std::string& file, const Span& span,
                      bool world) {
  BurnClock clock;
  clock.timezone = document.timezone;
  if (world) clock.zero = Instant(std::chrono::milliseconds(0));
  return fmt::format("'{}' runs from {} to {}", file,
                     documents::time_text(clock, static_cast<double>(span.from_ms) / 1000.0),
                     documents::time_text(clock, static_cast<double>(span.to_ms) / 1000.0));
}

/// The whole hours that bring `late` and `fixed` together best: at least half of the shorter in
/// common; 0 where none do.
std::int64_t whole_hours(const Span& fixed, const Span& moved) {
  const auto shorter = std::min(fixed.to_ms - fixed.from_ms, moved.to_ms - moved.from_ms);
  std::int64_t best = 0;
  std::int64_t most = shorter / 2;
  for (std::int64_t size = 1; size <= 26; ++size) {
    for (const std::int64_t hours : {-size, size}) {
      const auto common = common_of(fixed, moved, hours * hour_ms);
      if (common > most) {
        most = common;
        best = hours;
      }
    }
  }
  return best;
}

/// The keys that mend a clock that is wrong by whole hours.
std::string hour_keys(const BurnDocument& document, std::size_t l, const Span& span,
                      std::int64_t hours) {
  const auto& spec = document.logs[l];
  const std::chrono::sys_seconds moment(std::chrono::seconds(span.from_ms / 1000));
  const auto own_h = documents::utc_offset_s(spec.hints.timezone, moment);
  const auto burn_h = documents::utc_offset_s(document.timezone, moment);
  std::string zone;
  if (hours * 3600 == own_h) zone = "UTC";
  if (own_h == 0 && hours * 3600 == -burn_h) zone = document.timezone;
  const auto by_zone =
      zone.empty() ? ""
                   : fmt::format("timezone = \"{}\" (if its stamps are in that zone), or ", zone);
  return fmt::format("[[log]] file = \"{}\" with {}offset = \"{}\"", spec.file, by_zone,
                     offset_text(static_cast<double>(hours) * 3600.0));
}

bool counts_from_own_start(const ClockTie& tie) {
  return !tie.world && !tie.stated;
}

Result<void> check_elapsed(const BurnDocument& document, const std::vector<ClockTie>& ties) {
  const auto worlds = std::ranges::count(ties, true, &ClockTie::world);
  const auto loose = std::ranges::count_if(ties, counts_from_own_start);
  const auto elapsed = static_cast<std::ptrdiff_t>(ties.size()) - worlds;
  if (elapsed == 0 || (worlds == 0 && loose <= 1)) return {};
  for (std::size_t l = 0; l < ties.size(); ++l) {
    if (worlds > 0 ? ties[l].world : !counts_from_own_start(ties[l])) continue;
    const auto& spec = document.logs[l];
    return fail(
        ErrorKind::bad_input,
        "{}: '{}' counts time from its own start, so how it stands to the other logs is not "
        "known; under [[log]] file = \"{}\" write its start as zero = 2026-05-02T12:30:00, a "
        "common 'mark', or 'match'",
        document.at(spec.place), spec.file, spec.file);
  }
  return {};
}

}  // namespace

Result<void> check_clocks(const BurnDocument& document, std::span<const logs::Log> logs,
                          const std::vector<ClockTie>& ties) {
  if (auto checked = check_elapsed(document, ties); !checked) return checked;
  for (std::size_t l = 0; l < logs.size() && logs.size() > 1; ++l) {
    if (ties[l].stated) continue;
    const auto own = span_of(logs[l], ties[l]);
    std::optional<std::size_t> closest;
    std::int64_t most = 0;
    for (std::size_t k = 0; k < logs.size(); ++k) {
      const auto other = span_of(logs[k], ties[k]);
      if (k == l || !own || !other) continue;
      const auto common = common_of(*other, *own);
      if (!closest || common > most) {
        closest = k;
        most = common;
      }
    }
    if (!closest || most >= 0 || ties[*closest].stated) continue;
    // Of two logs of which nothing was said, the later in the document is the one to mend.
    const bool other_untold = *closest > l;
    const auto mend = other_untold ? *closest : l;
    const auto fixed = other_untold ? l : *closest;
    const auto moved_span = span_of(logs[mend], ties[mend]).value_or(Span{});
    const auto fixed_span = span_of(logs[fixed], ties[fixed]).value_or(Span{});
    const auto& spec = document.logs[mend];
    const auto story =
        fmt::format("{}: {}, {}: they have no time in common", document.at(spec.place),
                    span_text(document, document.logs[fixed].file, fixed_span, ties[fixed].world),
                    span_text(document, spec.file, moved_span, ties[mend].world));
    if (const auto hours = whole_hours(fixed_span, moved_span); hours != 0) {
      return fail(ErrorKind::bad_input,
                  "{}, but would with whole hours added ({} h): a time zone mistake? write {}",
                  story, hours, hour_keys(document, mend, moved_span, hours));
    }
    return fail(
        ErrorKind::bad_input,
        "{}; under [[log]] file = \"{}\" write 'offset', 'mark' or 'match' (offset = \"0 s\" "
        "if the clock is right)",
        story, spec.file);
  }
  return {};
}

namespace {

bool is_temperature(logs::ChannelUnit unit) {
  using logs::ChannelUnit;
  return unit == ChannelUnit::celsius || unit == ChannelUnit::fahrenheit ||
         unit == ChannelUnit::kelvin || unit == ChannelUnit::unknown;
}

std::vector<double> common_seconds(const logs::LogChannel& channel, const ClockTie& tie,
                                   std::int64_t base_ms) {
  std::vector<double> seconds;
  seconds.reserve(channel.ms.size());
  for (const auto ms : channel.ms) {
    seconds.push_back(static_cast<double>(tie.common_ms(ms) - base_ms) / 1000.0);
  }
  return seconds;
}

/// The first finding among a few temperature channels of both logs.
std::optional<series::ClockOffset> offset_between(const logs::Log& a, const ClockTie& tie_a,
                                                  const logs::Log& b, const ClockTie& tie_b) {
  constexpr int most_tries = 3;
  const auto range = stamp_range(a);
  if (!range) return std::nullopt;
  const auto base = tie_a.common_ms(range->first_ms);
  int tries = 0;
  for (const auto& mine : a.channels) {
    for (const auto& theirs : b.channels) {
      if (!is_temperature(mine.unit) || !is_temperature(theirs.unit)) continue;
      if (++tries > most_tries) return std::nullopt;
      const auto seconds_a = common_seconds(mine, tie_a, base);
      const auto seconds_b = common_seconds(theirs, tie_b, base);
      const auto finding =
          series::find_clock_offset({seconds_a, mine.values}, {seconds_b, theirs.values},
                                    {-untold_search_s, untold_search_s});
      if (finding.found) return finding.found;
    }
  }
  return std::nullopt;
}

/// Says where two logs start and end the same whole hours apart.
void suspect_hours(const BurnDocument& document, std::size_t l, const Span& fixed,
                   const Span& moved, std::vector<std::string>& assumed) {
  const double starts = static_cast<double>(fixed.from_ms - moved.from_ms) / hour_ms;
  const double ends = static_cast<double>(fixed.to_ms - moved.to_ms) / hour_ms;
  const double hours = std::round(starts);
  constexpr double close_h = 10.0 / 60.0;
  if (hours == 0.0 || std::abs(starts - hours) > close_h || std::abs(ends - hours) > close_h)
    return;
  assumed.push_back(fmt::format(
      "'{}' and '{}' start and end about {} h apart: a time zone mistake? if so, write {}",
      document.logs[0].file, document.logs[l].file, std::abs(hours),
      hour_keys(document, l, moved, static_cast<std::int64_t>(hours))));
}

}  // namespace

void compare_untold_clocks(const BurnDocument& document, std::span<const logs::Log> logs,
                           std::vector<ClockTie>& ties, std::vector<std::string>& assumed) {
  for (std::size_t l = 1; l < logs.size(); ++l) {
    auto& tie = ties[l];
    if (tie.stated) continue;
    const auto& file = document.logs[l].file;
    const auto& first = document.logs[0].file;
    const auto fixed_span = span_of(logs[0], ties[0]);
    const auto own_span = span_of(logs[l], tie);
    if (fixed_span && own_span) suspect_hours(document, l, *fixed_span, *own_span, assumed);
    const auto found = offset_between(logs[0], ties[0], logs[l], tie);
    if (!found) {
      tie.uncertainty_s = untold_clock_uncertainty_s;
      tie.how = "nothing is said of it";
      assumed.push_back(
          fmt::format("the clocks of '{}' and '{}' are taken to agree within {:.0f} s: nothing is "
                      "said of them and their channels do not tell",
                      first, file, untold_clock_uncertainty_s));
    } else if (std::abs(found->offset_s) <= found->uncertainty_s) {
      tie.uncertainty_s = found->uncertainty_s;
      tie.how = fmt::format("agrees with '{}' by what both have seen", first);
    } else {
      tie.uncertainty_s = std::abs(found->offset_s) + found->uncertainty_s;
      tie.how = "nothing is said of it";
      assumed.push_back(
          fmt::format("'{}' seems to run {} {} '{}' (give or take {:.0f} s); its clock was left as "
                      "it is; if you "
                      "know this to be so, write offset = \"{}\" under [[log]] file = \"{}\"",
                      file, offset_text(std::abs(found->offset_s)).substr(1),
                      found->offset_s < 0.0 ? "ahead of" : "behind", first, found->uncertainty_s,
                      offset_text(found->offset_s), file));
    }
  }
}

}  // namespace pitwright::burns
