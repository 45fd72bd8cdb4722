#include "call/windows.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "call/lag.h"
#include "call/lids.h"
#include "call/recovery.h"
#include "call/seen.h"
#include "call/soak.h"
#include "series/robust.h"
#include "series/swing.h"

namespace pitwright::call {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

constexpr double settled_share = 0.1;  ///< of *matters*: what may remain of a change
constexpr double fewest_lags = 2.0;
constexpr double most_of_dwell = 0.6;     ///< lost to settling at most
constexpr double least_left_s = 300.0;    ///< a stint that keeps less, or less than
constexpr double least_left_share = 0.2;  ///< this of its dwell, is spoiled
constexpr double warming_share = 0.25;    ///< of its dwell is counted of a stint still warming
constexpr double soak_share = 0.5;        ///< of the dwell may be given to the end of the soak

std::vector<std::string> names_of(const Burn& burn) {
  std::vector<std::string> out;
  for (const auto& stint : burn.stints) {
    if (std::ranges::find(out, stint.setting) == out.end()) out.push_back(stint.setting);
  }
  return out;
}

Swing swing_of(const series::Cycle& cycle) {
  return {cycle.period_s, cycle.size};
}

/// Swing of the dial where it has a steady one, else of the level; then of every channel.
void find_swings(const Panel& panel, const Seen& seen, Windows& out) {
  const auto dial = panel.dial.empty()
                        ? std::span<const double>{}
                        : std::span(panel.dial).first(static_cast<std::size_t>(seen.n));
  const auto level = series::find_cycle(seen.level, seen.step_s);
  out.swing = swing_of(level);
  auto period_s = level.period_s;
  if (!dial.empty()) {
    const auto own = series::find_cycle(dial, seen.step_s);
    if (own.period_s || !level.period_s) out.swing = swing_of(own);
    if (own.period_s) period_s = own.period_s;
    out.swings.push_back({"dial", swing_of(own)});
  }
  for (std::size_t i = 0; i < panel.spots.size(); ++i) {
    out.swings.push_back({panel.spots[i].channel,
                          swing_of(series::cycle_near(seen.spots[i], seen.step_s, period_s))});
  }
}

/// The level's swing at each setting (a fouled sensor shows less of it): sizes of its counted
/// stretches by their length, the middle one of their periods. A setting may change the swing
/// itself: a fouled sensor does.
void find_swing_by_setting(const Seen& seen, Windows& out) {
  const std::span<const double> whole(seen.level);
  for (int k = 0; k < std::ssize(out.settings); ++k) {
    double length = 0.0, size = 0.0;
    std::vector<double> periods;
    for (const auto& stint : out.stints) {
      if (stint.setting != k || !stint.counted_from_s) continue;
      const auto from = static_cast<std::size_t>(seen.index_of(*stint.counted_from_s));
      const auto to = static_cast<std::size_t>(seen.index_of(*stint.counted_to_s));
      if (to <= from) continue;
      const auto cycle = series::find_cycle(whole.subspan(from, to - from), seen.step_s);
      if (!std::isfinite(cycle.size)) continue;
      const auto n = static_cast<double>(to - from);
      length += n;
      size += n * cycle.size;
      if (cycle.period_s) periods.push_back(*cycle.period_s);
    }
    out.swing_by_setting.emplace_back();
    if (length > 0.0) {
      auto& swing = out.swing_by_setting.back().emplace();
      swing.size_k = size / length;
      if (!periods.empty()) swing.period_s = series::median(periods);
    }
  }
}

void exclude(double from_s, double to_s, Seen& seen) {
  for (int j = seen.index_of(from_s); j < seen.index_of(to_s); ++j) {
    seen.excluded[static_cast<std::size_t>(j)] = 1;
  }
}

std::vector<Opening> find_lids(const Burn& burn, Seen& seen, Windows& out) {
  const auto openings = openings_of(burn, seen);
  for (const auto& lid : openings) {
    // Half a step more on either side: a moment that is partly open does not count.
    exclude(lid.from_s - seen.step_s, lid.clear_s + seen.step_s, seen);
    out.troubles.push_back({TroubleKind::lid,
                            lid.is_marked ? TroubleCode::lid_marked : TroubleCode::lid_unmarked, "",
                            lid.from_s, lid.is_marked ? lid.clear_s - lid.from_s : lid.depth_k});
  }
  return openings;
}

/// When a stint has settled: what remains of the change of the most affected series is below a
/// tenth of *matters*; at least two lags, at most six tenths of the dwell.
double settled_at(const Burn& burn, const Seen& seen, const ChangeMoment& change, double dwell_s,
                  const Windows& w) {
  double largest = 0.0;
  for (const double size : change_sizes(seen, change, w.lag_s, w.swing.period_s)) {
    largest = std::max(largest, size);
  }
  const double goal = settled_share * burn.matters.kelvins();
  const double modelled = largest > goal ? w.lag_s * std::log(largest / goal) : 0.0;
  return change.at_s + std::min(most_of_dwell * dwell_s, std::max(fewest_lags * w.lag_s, modelled));
}

/// Whether the first stint was set long before it began: the log shows two lags of it at heat.
bool is_set_before(const Burn& burn, const Seen& seen, const Soak& soak, double lag_s) {
  const double shown_from_s = std::max(seen.start_s, soak.heat_at_s);
  return burn.stints.front().from_s - shown_from_s >= fewest_lags * lag_s;
}

double excluded_between(const Seen& seen, double from_s, double to_s) {
  double sum = 0.0;
  for (int j = seen.index_of(from_s); j < seen.index_of(to_s); ++j) {
    const auto i = static_cast<std::size_t>(j);
    if (seen.excluded[i] != 0 || !std::isfinite(seen.level[i])) sum += seen.step_s;
  }
  return sum;
}

struct Context {
  const Burn& burn;
  const Seen& seen;
  const Soak& soak;
  const std::vector<Opening>& lids;
  double now_s;
};

bool is_open_or_recovering(const Context& c) {
  return std::ranges::any_of(
      c.lids, [&](const Opening& lid) { return lid.from_s <= c.now_s && c.now_s < lid.clear_s; });
}

/// Sets window, state and reason of one stint whose settling ends at `settled_s`.
void fill_stint(const Context& c, double settled_s, Windows& out, StintCall& call) {
  const auto& setting = out.settings[static_cast<std::size_t>(call.setting)];
  const double end_s = std::min(call.to_s, c.now_s);
  const double dwell_s = call.to_s - call.from_s;
  const bool is_running = c.now_s < call.to_s;
  call.state = StintState::closed;
  if (c.now_s <= call.from_s) {
    call.state = StintState::settling;
    call.why = "has not begun";
    return;
  }
  double from_s = settled_s;
  const bool is_soaked = c.soak.soaked_at_s.has_value();
  const double soaked_s = c.soak.soaked_at_s.value_or(INFINITY);
  bool is_warming = soaked_s > from_s;
  if (is_warming && is_soaked && soaked_s - call.from_s <= soak_share * dwell_s) {
    from_s = soaked_s;
    is_warming = false;
    call.why = "counts from the end of the soak";
  }
  if (is_warming && is_running) {
    call.state = StintState::heating;
    call.why = "the pit is not soaked yet";
  } else if (end_s <= from_s) {
    call.state = is_running ? StintState::settling : StintState::spoiled;
    call.why = is_running ? "settling after the change" : "ended before it had settled";
  }
  // Where nothing had settled, its end is the least wrong: what is still to come is smallest there.
  if (is_warming && !is_running) from_s = std::max(from_s, end_s - warming_share * dwell_s);
  const double left_s = end_s - from_s;
  if (left_s > 0.0) {
    call.counted_from_s = from_s;
    call.counted_to_s = end_s;
    call.excluded_s = excluded_between(c.seen, from_s, end_s);
  }
  const double good_s = std::max(0.0, left_s) - call.excluded_s;
  const double least_s =
      std::max(3.0 * c.seen.step_s, std::min(least_left_s, least_left_share * dwell_s));
  if (!is_running && good_s < least_s) {
    call.state = StintState::spoiled;
    call.counted_from_s = call.counted_to_s = std::nullopt;
    call.excluded_s = 0.0;
    if (call.why.empty()) call.why = "too little is left of it after lids and missing readings";
    out.troubles.push_back(
        {TroubleKind::lid, TroubleCode::stint_spoiled, setting, call.from_s, good_s, call.index});
  } else if (is_running && call.state == StintState::closed) {
    const bool is_paused = is_open_or_recovering(c);
    call.state = is_paused ? StintState::paused : StintState::counting;
    if (is_paused) call.why = "the lid was opened; the air is coming back";
  }
  if (!is_warming) return;
  if (call.state == StintState::closed) call.why = "began before the pit was soaked";
  out.troubles.push_back({TroubleKind::soak, TroubleCode::still_warming, setting, call.from_s,
                          c.soak.time_constant_s > 0.0 ? std::abs(c.soak.rest_at(from_s)) : nan,
                          call.index});
}

void find_stints(const Context& c, Windows& out) {
  const auto changes = changes_of(c.burn);
  double settled_s = -INFINITY;
  for (std::size_t k = 0; k < c.burn.stints.size(); ++k) {
    const Stint& stint = c.burn.stints[k];
    const auto setting = std::ranges::find(out.settings, stint.setting) - out.settings.begin();
    StintCall call{static_cast<int>(k),
                   static_cast<int>(setting),
                   stint.from_s,
                   stint.to_s,
                   {},
                   {},
                   0.0,
                   StintState::closed,
                   ""};
    const auto change = std::ranges::find(changes, static_cast<int>(k), &ChangeMoment::stint);
    if (change != changes.end()) {
      settled_s = settled_at(c.burn, c.seen, *change, stint.to_s - stint.from_s, out);
    } else if (k == 0 && !is_set_before(c.burn, c.seen, c.soak, out.lag_s)) {
      const ChangeMoment first{0, stint.from_s, stint.from_s, stint.from_s, stint.to_s};
      settled_s = settled_at(c.burn, c.seen, first, stint.to_s - stint.from_s, out);
    }
    fill_stint(c, std::max(stint.from_s, settled_s), out, call);
    out.stints.push_back(std::move(call));
  }
}

/// Recovery by spot; a spot that came back slowly spoils what it weighs in, told once a lid.
void find_recoveries(const Burn& burn, const Panel& panel, const Seen& seen,
                     const std::vector<Opening>& lids, Windows& out) {
  out.lids = recoveries_of(burn, seen, lids, out.stints, out.swing);
  out.lid_goal_k = settled_share * burn.matters.kelvins();
  for (const auto& lid : out.lids) {
    std::string names;
    double short_k = 0.0;
    const auto slow = slow_spots(lid);
    for (const int i : slow) {
      names += (names.empty() ? "" : ", ") + panel.spots[static_cast<std::size_t>(i)].spot;
      short_k += lid.spots[static_cast<std::size_t>(i)].short_k / static_cast<double>(slow.size());
    }
    if (slow.empty() || !lid.stint) continue;
    out.troubles.push_back(
        {TroubleKind::lid, TroubleCode::lid_one_sided, names, lid.from_s, short_k, lid.stint});
    auto& stint = out.stints[static_cast<std::size_t>(*lid.stint)];
    if (stint.why.empty()) stint.why = "after the lid these came back slowly: " + names;
  }
}

}  // namespace

Windows find_windows(const Burn& burn, const Panel& panel, double as_known_at_s) {
  Windows out;
  out.settings = names_of(burn);
  Seen seen = seen_of(panel, as_known_at_s);
  const auto lids = find_lids(burn, seen, out);
  find_swings(panel, seen, out);
  const Lag lag = lag_of(burn, seen, out.swing.period_s);
  out.lag_s = lag.lag_s;
  out.lag_low_s = lag.low_s;
  out.lag_high_s = lag.high_s;
  out.lag_borrowed = lag.is_borrowed;
  const Soak soak = soak_of(burn, seen, out.lag_s, out.swing.period_s);
  out.soaked_at_s = soak.soaked_at_s;
  if (soak.is_unknown) {
    out.troubles.push_back({TroubleKind::soak, TroubleCode::soak_unknown, "",
                            std::min(as_known_at_s, seen.end_s()), soak.wait_s});
  }
  find_stints({burn, seen, soak, lids, std::min(as_known_at_s, seen.end_s())}, out);
  find_recoveries(burn, panel, seen, lids, out);
  find_swing_by_setting(seen, out);
  out.excluded.assign(static_cast<std::size_t>(panel.n), 0);
  std::ranges::copy(seen.excluded, out.excluded.begin());
  return out;
}

}  // namespace pitwright::call
