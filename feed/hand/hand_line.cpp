#include "hand/hand_line.h"

#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>
#include <poll.h>
#include <unistd.h>

#include "documents/zones.h"
#include "logs/fields.h"
#include "logs/number.h"
#include "logs/stamps.h"
#include "logs/unit_words.h"
#include "payload/payload.h"

namespace pitwright::feed {
namespace {

constexpr auto example = "a reading is typed as \"A1 243 F\", or \"A1 243 F at 13:05\"";

/// A time of day on the wall of the feed's zone: the latest one that is not after now.
Result<Moment> moment_of(std::string_view text, const std::string& timezone, Moment now) {
  auto stamps = StampReader::make(timezone);
  if (!stamps) return std::unexpected(stamps.error());
  if (const auto full = stamps->text(text)) return *full;
  logs::Stamp clock;
  if (!logs::parse_stamp(text, logs::DateOrder::year_first, clock) || clock.has_date ||
      !clock.has_clock || clock.clock_ms >= 86'400'000) {
    return fail(ErrorKind::bad_input, "\"{}\" is no time; {}", shown(text), example);
  }
  const auto wall_now =
      documents::local_time_of(std::chrono::floor<std::chrono::milliseconds>(now), timezone);
  auto day = std::chrono::floor<std::chrono::days>(wall_now);
  auto local = documents::LocalTime(day) + std::chrono::milliseconds(clock.clock_ms);
  if (local > wall_now) local -= std::chrono::days(1);
  const auto instant = documents::instant_of(local, timezone);
  if (!instant) return std::unexpected(instant.error());
  return Moment(*instant);
}

}  // namespace

Result<Reading> hand_line(std::string_view line, const HandFeed& feed, Moment now) {
  auto said = logs::trimmed(line);
  Moment at = now;
  bool stamped = false;
  if (const auto word = said.rfind(" at "); word != said.npos) {
    const auto moment = moment_of(logs::trimmed(said.substr(word + 4)), feed.timezone, now);
    if (!moment) return std::unexpected(moment.error());
    at = *moment;
    stamped = true;
    said = logs::trimmed(said.substr(0, word));
  }
  // The number is the last word that begins with one; what follows is its unit.
  std::size_t from = said.npos;
  for (std::size_t i = 1; i < said.size(); ++i) {
    if (said[i - 1] == ' ' && logs::decimal_length(said.substr(i), '.') > 0) from = i;
  }
  if (from == said.npos) return fail(ErrorKind::bad_input, "\"{}\": {}", shown(line), example);
  const auto length = logs::decimal_length(said.substr(from), '.');
  const auto value = logs::parse_decimal(said.substr(from, length), '.');
  const auto word = logs::trimmed(said.substr(from + length));
  const auto unit = word.empty() ? std::optional(feed.unit) : logs::unit_of_word(word);
  if (!value || !unit || *unit == logs::ChannelUnit::other) {
    return fail(ErrorKind::bad_input, "\"{}\": {}", shown(line), example);
  }
  if (*unit == logs::ChannelUnit::unknown) {
    return fail(ErrorKind::bad_input, "\"{}\" has no unit: say F or C, or set 'unit' in the feed",
                shown(line));
  }
  const auto stored = stored_value(*value, *unit);
  if (!stored)
    return fail(ErrorKind::bad_input, "\"{}\" is nothing a thermometer shows", shown(line));
  return Reading{std::string(logs::trimmed(said.substr(0, from))), at, *stored, stamped};
}

Result<void> run_hand(const HandFeed& feed, int descriptor, Outlet& outlet, Troubles& troubles) {
  constexpr int breath_ms = 200;
  constexpr std::size_t longest_line = 4096;
  std::string open;
  while (!outlet.stopping()) {
    pollfd one{descriptor, POLLIN, 0};
    if (::poll(&one, 1, breath_ms) <= 0) continue;
    char bytes[4096];
    const auto n = ::read(descriptor, bytes, sizeof bytes);
    if (n <= 0) return {};
    open.append(bytes, static_cast<std::size_t>(n));
    Delivery delivery{feed.name, {}, {}};
    for (auto end = open.find('\n'); end != open.npos; end = open.find('\n')) {
      const auto line = std::exchange(open, open.substr(end + 1)).substr(0, end);
      if (logs::trimmed(line).empty()) continue;
      const auto now =
          std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
      auto reading = hand_line(line, feed, now);
      if (reading)
        delivery.readings.push_back(std::move(*reading));
      else
        troubles.now(reading.error().what);
    }
    if (open.size() > longest_line) open.clear();
    if (!delivery.readings.empty() && !outlet.deliver(std::move(delivery))) return {};
  }
  return {};
}

}  // namespace pitwright::feed
