#include "burns/clock_ties.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <variant>

#include <fmt/format.h>

#include "burns/channels.h"
#include "burns/clocks.h"
#include "documents/zones.h"
#include "series/clock_offset.h"

namespace pitwright::burns {
namespace {

using documents::BurnDocument;
using documents::LogSpec;
using documents::Place;
using documents::WrittenTime;

/// What a log calls the common mark, as a stamp of its own.
Result<std::int64_t> mark_stamp(const BurnDocument& document, const LogSpec& spec,
                                const WrittenTime& mark, const logs::Log& log) {
  if (const auto* since = std::get_if<Seconds>(&mark.of)) {
    const auto range = stamp_range(log);
    const bool from_first = log.stamps == logs::Stamps::instants && range;
    return std::llround(since->count() * 1000.0) + (from_first ? range->first_ms : 0);
  }
  if (log.stamps == logs::Stamps::elapsed && !spec.hints.zero) {
    return fail(
        ErrorKind::bad_input,
        "{}: '{}' counts time from its own start; write its 'mark' as such, like \"0:12:20\"",
        document.at(mark.place), spec.file);
  }
  std::int64_t zero = 0;
  if (log.stamps == logs::Stamps::elapsed && spec.hints.zero) {
    zero = spec.hints.zero->time_since_epoch().count();
  }
  if (const auto* instant = std::get_if<Instant>(&mark.of)) {
    return instant->time_since_epoch().count() - zero;
  }
  const auto instant =
      documents::instant_of(std::get<documents::LocalTime>(mark.of), spec.hints.timezone);
  if (!instant) {
    return fail(ErrorKind::bad_input, "{}: 'mark': {}", document.at(mark.place),
                instant.error().what);
  }
  return instant->time_since_epoch().count() - zero;
}

double mark_uncertainty_s(const LogSpec& spec, const logs::Log& log) {
  if (spec.clock.mark_uncertainty) return spec.clock.mark_uncertainty->count();
  return std::max(1.0, log.interval_s);
}

/// The common mark on the common time line.
struct Mark {
  std::int64_t common_ms = 0;
  bool world = false;
  double uncertainty_s = 0.0;
  std::optional<std::size_t> reference;  ///< the log whose clock is taken as right
};

/// The burn's own mark, else the first marked log on the world's clock, else the first marked log.
Result<std::optional<Mark>> common_mark(const BurnDocument& document,
                                        std::span<const logs::Log> logs,
                                        const std::vector<ClockTie>& ties) {
  if (document.mark) {
    const auto* instant = std::get_if<Instant>(&document.mark->of);
    const auto resolved =
        instant != nullptr
            ? Result<Instant>(*instant)
            : documents::instant_of(std::get<documents::LocalTime>(document.mark->of),
                                    document.timezone);
    if (!resolved) {
      return fail(ErrorKind::bad_input, "{}: 'mark': {}", document.at(document.mark->place),
                  resolved.error().what);
    }
    return Mark{resolved->time_since_epoch().count(), true,
                document.mark_uncertainty.value_or(Seconds(0)).count(), std::nullopt};
  }
  std::optional<std::size_t> reference;
  for (std::size_t l = 0; l < logs.size(); ++l) {
    if (!document.logs[l].clock.mark) continue;
    if (!reference || (ties[l].world && !ties[*reference].world)) reference = l;
  }
  if (!reference) return std::optional<Mark>{};
  const auto& spec = document.logs[*reference];
  if (!spec.clock.mark) return std::optional<Mark>{};
  const auto stamp = mark_stamp(document, spec, *spec.clock.mark, logs[*reference]);
  if (!stamp) return std::unexpected(stamp.error());
  return Mark{ties[*reference].common_ms(*stamp), ties[*reference].world,
              mark_uncertainty_s(spec, logs[*reference]), reference};
}

Result<void> tie_marked(const BurnDocument& document, std::span<const logs::Log> logs,
                        std::vector<ClockTie>& ties) {
  const auto found = common_mark(document, logs, ties);
  if (!found) return std::unexpected(found.error());
  const std::optional<Mark> mark = *found;
  if (!mark) return {};
  const auto& common = *mark;
  int marked = 0;
  Place last_mark;
  for (std::size_t l = 0; l < logs.size(); ++l) {
    const auto& spec = document.logs[l];
    if (!spec.clock.mark) continue;
    ++marked;
    last_mark = spec.clock.mark->place;
    auto& tie = ties[l];
    tie.stated = true;
    if (common.reference == l) {
      tie.how = "its clock is taken as right at the common mark";
      continue;
    }
    const auto stamp = mark_stamp(document, spec, *spec.clock.mark, logs[l]);
    if (!stamp) return std::unexpected(stamp.error());
    const auto shift = common.common_ms - *stamp;
    tie.offset_ms = tie.world == common.world ? shift - tie.shift_ms : 0;
    tie.shift_ms = shift;
    tie.world = common.world;
    tie.uncertainty_s = std::hypot(mark_uncertainty_s(spec, logs[l]), common.uncertainty_s);
    tie.how = "by the common mark";
  }
  if (marked == 1 && common.reference && logs.size() > 1) {
    const auto& spec = document.logs[*common.reference];
    return fail(
        ErrorKind::bad_input,
        "{}: only '{}' has a 'mark'; write what another log showed at the same moment as its "
        "'mark', or the true time as 'mark' of the burn",
        document.at(last_mark), spec.file);
  }
  return {};
}

/// A channel's samples on the common time line, from `base_ms` on.
struct CommonSamples {
  std::vector<double> seconds;
  std::span<const double> values;
  series::ClockedChannel channel() const { return {seconds, values}; }
};

CommonSamples samples_of(const logs::LogChannel& channel, const ClockTie& tie,
                         std::int64_t base_ms) {
  CommonSamples samples{{}, channel.values};
  samples.seconds.reserve(channel.ms.size());
  for (const auto ms : channel.ms) {
    samples.seconds.push_back(static_cast<double>(tie.common_ms(ms) - base_ms) / 1000.0);
  }
  return samples;
}

Result<void> tie_matched(const BurnDocument& document, std::span<const logs::Log> logs,
                         std::vector<ClockTie>& ties, std::size_t l, ChannelIndex other) {
  const auto& spec = document.logs[l];
  const auto own = find_channel(document, logs, spec.clock.match_own, l);
  if (!own) {
    return fail(ErrorKind::bad_input, "{}: 'match': {}", document.at(spec.place), own.error().what);
  }
  const auto& mine = logs[l].channels[own->channel];
  const auto& theirs = logs[other.log].channels[other.channel];
  if (mine.ms.empty() || theirs.ms.empty()) {
    return fail(ErrorKind::bad_input, "{}: 'match': one of the channels has no reading",
                document.at(spec.place));
  }
  const auto& reference = ties[other.log];
  const auto base = reference.common_ms(theirs.ms.front());
  auto& tie = ties[l];
  const auto started = tie.world == reference.world ? tie.shift_ms : base - mine.ms.front();
  ClockTie unmatched = tie;
  unmatched.shift_ms = started;
  const auto a = samples_of(theirs, reference, base);
  const auto b = samples_of(mine, unmatched, base);
  const auto finding = series::find_clock_offset(a.channel(), b.channel());
  if (!finding.found) {
    return fail(ErrorKind::bad_input,
                "{}: the clock of '{}' cannot be told from {}: {}; write its 'offset' or a 'mark'",
                document.at(spec.place), spec.file,
                fmt::format("'{}' and '{}'", spec.clock.match_own, spec.clock.match_other),
                finding.why);
  }
  const auto& found = *finding.found;
  const auto offset_ms = std::llround(found.offset_s * 1000.0);
  tie.stated = true;
  tie.offset_ms = tie.world == reference.world ? offset_ms : 0;
  tie.shift_ms = started + offset_ms;
  tie.world = reference.world;
  tie.drift_s_per_h = found.drift_s_per_h;
  tie.drift_at_ms = std::llround(found.at_s * 1000.0) + base - started;
  tie.uncertainty_s = std::hypot(found.uncertainty_s, reference.uncertainty_s);
  tie.how =
      fmt::format("matched by '{}' and '{}', whose changes agree with a correlation of {:.2f}",
                  spec.clock.match_own, spec.clock.match_other, found.correlation);
  return {};
}

/// Ties matched logs, each once the log it leans on is tied.
Result<void> tie_all_matched(const BurnDocument& document, std::span<const logs::Log> logs,
                             std::vector<ClockTie>& ties) {
  std::vector<std::size_t> waiting;
  for (std::size_t l = 0; l < logs.size(); ++l) {
    if (!document.logs[l].clock.match_own.empty()) waiting.push_back(l);
  }
  while (!waiting.empty()) {
    const auto before = waiting.size();
    for (auto at = waiting.begin(); at != waiting.end();) {
      const auto& spec = document.logs[*at];
      const auto other = find_channel(document, logs, spec.clock.match_other);
      if (!other) {
        return fail(ErrorKind::bad_input, "{}: 'match': {}", document.at(spec.place),
                    other.error().what);
      }
      if (other->log == *at) {
        return fail(ErrorKind::bad_input, "{}: 'match' expects a channel of another log",
                    document.at(spec.place));
      }
      if (std::ranges::find(waiting, other->log) != waiting.end()) {
        ++at;
        continue;
      }
      if (auto tied = tie_matched(document, logs, ties, *at, *other); !tied) return tied;
      at = waiting.erase(at);
    }
    if (waiting.size() == before) {
      return fail(ErrorKind::bad_input, "{}: these logs are matched to each other in a circle",
                  document.at(document.logs[waiting.front()].place));
    }
  }
  return {};
}

}  // namespace

Result<std::vector<ClockTie>> tie_clocks(const BurnDocument& document,
                                         std::span<const logs::Log> logs) {
  std::vector<ClockTie> ties;
  for (std::size_t l = 0; l < logs.size(); ++l) {
    const auto& spec = document.logs[l];
    ClockTie tie;
    tie.world = logs[l].stamps == logs::Stamps::instants;
    if (!tie.world && spec.hints.zero) {
      tie.world = true;
      tie.shift_ms = spec.hints.zero->time_since_epoch().count();
    }
    if (spec.clock.offset) {
      tie.stated = true;
      tie.offset_ms = std::llround(spec.clock.offset->count() * 1000.0);
      tie.shift_ms += tie.offset_ms;
      tie.uncertainty_s = spec.clock.offset_uncertainty.value_or(Seconds(0)).count();
      tie.how = "by the stated offset";
    }
    ties.push_back(tie);
  }
  if (auto tied = tie_marked(document, logs, ties); !tied) return std::unexpected(tied.error());
  if (auto tied = tie_all_matched(document, logs, ties); !tied) {
    return std::unexpected(tied.error());
  }
  return ties;
}

}  // namespace pitwright::burns
