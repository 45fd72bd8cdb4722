#include "call/live.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace pitwright::call {
namespace {

constexpr double shortest_count_s = 1200.0;

bool is_open(const Change& change) {
  return change.word == Word::not_yet || change.word == Word::too_close ||
         change.word == Word::muddled;
}

/// Settings that some open question compares.
std::set<int> open_settings(const Report& report) {
  std::set<int> settings;
  const auto look = [&](const Quantity& quantity) {
    for (const auto& change : quantity.changes)
      if (is_open(change)) settings.insert({change.from, change.to});
  };
  look(report.level);
  look(report.spread);
  for (const auto& spot : report.spots) look(spot.runs);
  for (const auto& tilt : report.tilts) look(tilt.tilt);
  if (report.dial_gap) look(*report.dial_gap);
  return settings;
}

std::optional<int> next_setting(const Evidence& evidence, const Report& report, int current) {
  const auto& stints = evidence.windows.stints;
  std::optional<int> best;
  int fewest = 0, latest = 0;
  for (const int setting : open_settings(report)) {
    if (setting == current) continue;
    int stretches = 0, last = -1;
    for (int i = 0; i < std::ssize(stints); ++i) {
      const auto& stint = stints[static_cast<std::size_t>(i)];
      if (stint.setting != setting || !stint.counted_from_s) continue;
      if (last < 0 || last + 1 < i) ++stretches;
      last = i;
    }
    if (!best || stretches < fewest || (stretches == fewest && last > latest)) {
      best = setting;
      fewest = stretches;
      latest = last;
    }
  }
  return best;
}

}  // namespace

double needed_s(const Swing& swing) {
  return std::max(shortest_count_s, 2.0 * standard_block_s(swing));
}

Live live_state(const Evidence& evidence, double now_s, const Report& report) {
  Live live;
  live.as_known_at_s = now_s;
  live.needed_s = needed_s(evidence.windows.swing);
  live.soaked = evidence.windows.soaked_at_s && *evidence.windows.soaked_at_s <= now_s;
  const StintCall* last = nullptr;
  for (const auto& stint : evidence.windows.stints)
    if (stint.from_s <= now_s) last = &stint;
  if (last == nullptr) {
    live.state = StintState::heating;
    if (!report.settings.empty()) live.change_to = 0;
    if (live.soaked) live.change_at_s = now_s;
    return live;
  }
  live.state = last->state;
  if (last->counted_from_s)
    live.counting_s = std::max(0.0, std::min(now_s, last->counted_to_s.value_or(now_s)) -
                                        *last->counted_from_s - last->excluded_s);
  live.change_to = next_setting(evidence, report, last->setting);
  if (!live.change_to) return live;
  const bool running = now_s <= last->to_s && live.state != StintState::closed;
  if (!running)
    live.change_at_s = now_s;
  else if (last->counted_from_s)
    live.change_at_s = now_s + std::max(0.0, live.needed_s - live.counting_s);
  return live;
}

}  // namespace pitwright::call
