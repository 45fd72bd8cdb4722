#include "burns/draft_stints.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string_view>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "burns/channels.h"
#include "documents/time_text.h"
#include "documents/toml.h"
#include "documents/zones.h"
#include "units/parse.h"

namespace pitwright::burns {
namespace {

constexpr std::int64_t day_ms = 86'400'000;
constexpr std::int64_t early_ms = 1'800'000;  ///< a stint may begin this long before the first row

/// First and last stamp over all logs, and whether they are instants.
struct Whole {
  StampRange range;
  bool world = true;
};

Whole whole_of(std::span<const logs::Log> logs) {
  Whole whole;
  bool first = true;
  for (const auto& log : logs) {
    const auto own = stamp_range(log);
    if (!own) continue;
    whole.world = whole.world && log.stamps == logs::Stamps::instants;
    whole.range = first ? *own
                        : StampRange{std::min(whole.range.first_ms, own->first_ms),
                                     std::max(whole.range.last_ms, own->last_ms)};
    first = false;
  }
  return whole;
}

/// "13:05" and the rest.
std::pair<std::string_view, std::string_view> split(std::string_view text) {
  const auto start = text.find_first_not_of(" \t");
  if (start == text.npos) return {};
  text.remove_prefix(start);
  const auto end = text.find_first_of(" \t");
  if (end == text.npos) return {text, {}};
  auto rest = text.substr(end);
  rest.remove_prefix(std::min(rest.find_first_not_of(" \t"), rest.size()));
  while (rest.ends_with(' ') || rest.ends_with('\t')) rest.remove_suffix(1);
  return {text.substr(0, end), rest};
}

/// The stamp a time on the wall means: a whole date, or the first such time of day from the log's
/// start on.
std::optional<std::int64_t> wall_stamp(std::string_view time, const Whole& whole,
                                       const std::string& zone) {
  if (const auto dated = documents::parse_toml(fmt::format("t = {}", time), "")) {
    const auto& value = dated->entries.front().value.of;
    if (const auto* instant = std::get_if<Instant>(&value)) {
      return instant->time_since_epoch().count();
    }
    if (const auto* local = std::get_if<documents::LocalTime>(&value)) {
      const auto instant = documents::instant_of(*local, zone);
      if (!instant) return std::nullopt;
      return instant->time_since_epoch().count();
    }
  }
  const auto clock = time.contains(':') ? parse_elapsed(time) : Result<Seconds>(Seconds(-1.0));
  if (!clock || clock->count() < 0.0 || clock->count() >= 86400.0) return std::nullopt;
  const auto first = documents::local_time_of(
      Instant(std::chrono::milliseconds(whole.range.first_ms - early_ms)), zone);
  const auto midnight = std::chrono::floor<std::chrono::days>(first);
  auto local = documents::LocalTime(midnight) +
               std::chrono::milliseconds(std::llround(clock->count() * 1000.0));
  if (local < first) local += std::chrono::milliseconds(day_ms);
  const auto instant = documents::instant_of(local, zone);
  if (!instant) return std::nullopt;
  return instant->time_since_epoch().count();
}

struct Told {
  std::int64_t ms = 0;
  std::string setting;
};

Result<Told> told_stint(const std::string& text, const Whole& whole, const std::string& zone) {
  const auto [time, setting] = split(text);
  if (setting.empty()) {
    return fail(ErrorKind::bad_input,
                "--stint expects a time and a setting, such as \"13:05 A\", not \"{}\"", text);
  }
  std::optional<std::int64_t> ms;
  if (whole.world) {
    ms = wall_stamp(time, whole, zone);
  } else if (const auto since = parse_elapsed(time)) {
    ms = std::llround(since->count() * 1000.0);
  }
  if (!ms) {
    return fail(ErrorKind::bad_input, "--stint \"{}\": '{}' is not a time such as {}", text, time,
                whole.world ? "13:05 or 2026-05-02T13:05:00" : "0:35, as the log counts it");
  }
  if (*ms >= whole.range.last_ms || *ms < whole.range.first_ms - early_ms) {
    BurnClock clock{{}, zone};
    if (whole.world) clock.zero = Instant(std::chrono::milliseconds(0));
    return fail(ErrorKind::bad_input,
                "--stint \"{}\" lies outside the logs, which run from {} to {}", text,
                documents::time_text(clock, static_cast<double>(whole.range.first_ms) / 1000.0),
                documents::time_text(clock, static_cast<double>(whole.range.last_ms) / 1000.0));
  }
  return Told{*ms, std::string(setting)};
}

/// A time as the document writes it: a local date and time, or an offset from the first sample.
std::string written(std::int64_t ms, const Whole& whole, const std::string& zone) {
  if (whole.world) {
    return documents::local_text(
        documents::local_time_of(Instant(std::chrono::milliseconds(ms)), zone));
  }
  const auto since = static_cast<double>(std::max(ms - whole.range.first_ms, std::int64_t{0}));
  return toml_text(documents::time_text({}, since / 1000.0));
}

}  // namespace

Result<std::string> draft_stints(const DraftRequest& request, std::span<const logs::Log> logs) {
  const auto whole = whole_of(logs);
  std::string text =
      "\n# One table for each stretch of the burn at one setting. `to` may be left out: it is then "
      "the\n# next `from`. Repeating a setting (A-B-B-A) tells drift and setting apart.\n";
  if (request.stints.empty()) {
    return text +
           fmt::format(
               "# This one is only a suggestion over the whole log: write in when you changed "
               "something.\n[[stint]]\nsetting = \"A\"\nfrom = {}\nto = {}\n",
               written(whole.range.first_ms, whole, request.timezone),
               written(whole.range.last_ms, whole, request.timezone));
  }
  std::int64_t before = std::numeric_limits<std::int64_t>::min();
  for (const auto& one : request.stints) {
    const auto told = told_stint(one, whole, request.timezone);
    if (!told) return std::unexpected(told.error());
    if (told->ms <= before) {
      return fail(ErrorKind::bad_input, "--stint \"{}\" is not after the one before it", one);
    }
    before = told->ms;
    text += fmt::format("\n[[stint]]\nsetting = {}\nfrom = {}\n", toml_text(told->setting),
                        written(told->ms, whole, request.timezone));
  }
  return text;
}

}  // namespace pitwright::burns
