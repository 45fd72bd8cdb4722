#include "keeping/live_burn.h"

#include <algorithm>
#include <limits>
#include <map>

#include "documents/nearest.h"

namespace pitwright::keeping {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

/// The burn's clock.
struct Clock {
  Instant zero;
  double last_s = 0.0;

  double seconds(db::Stamp stamp) const {
    const std::chrono::microseconds since = stamp - db::Stamp(zero);
    return static_cast<double>(since.count()) / 1e6;
  }
  std::optional<double> seconds(const std::optional<db::Stamp>& stamp) const {
    return stamp ? std::optional(seconds(*stamp)) : std::nullopt;
  }
};

/// A placement with its stretch of time.
struct Placed {
  const db::Placement* placement = nullptr;
  double from_s = -never, until_s = never;
};

std::optional<Clock> clock_of(std::span<const db::Series> samples) {
  std::optional<db::Stamp> first, last;
  for (const auto& series : samples) {
    if (series.at.empty()) continue;
    first = std::min(first.value_or(series.at.front()), series.at.front());
    last = std::max(last.value_or(series.at.back()), series.at.back());
  }
  if (!first) return std::nullopt;
  Clock clock{std::chrono::floor<std::chrono::milliseconds>(*first), 0.0};
  clock.last_s = clock.seconds(*last);
  return clock;
}

void put_on_grate(Probe& probe, const Pit& pit, std::vector<std::string>& assumed) {
  if (probe.role == Role::air && probe.spot.empty()) {
    probe.spot = probe.channel;
    assumed.push_back(fmt::format("the spot of '{}' is called by its channel", probe.channel));
  }
  if (probe.grate.empty() && probe.role == Role::air && pit.grates.size() == 1) {
    probe.grate = pit.grates.front().name;
    assumed.push_back(fmt::format("'{}' is on the only grate, '{}'", probe.channel, probe.grate));
  }
  const auto grate = std::ranges::find(pit.grates, probe.grate, &Grate::name);
  if (grate != pit.grates.end()) {
    if (!probe.z_m) probe.z_m = grate->height_m;
  } else if (!probe.grate.empty() && !pit.grates.empty()) {
    assumed.push_back(fmt::format("the pit has no grate '{}', on which '{}' is said to be",
                                  probe.grate, probe.channel));
  }
}

Readings readings_of(const db::Series& series, const Clock& clock, const Placed& placed) {
  Readings readings;
  for (std::size_t i = 0; i < series.at.size(); ++i) {
    const double at = clock.seconds(series.at[i]);
    if (at < placed.from_s || at >= placed.until_s) continue;
    readings.seconds.push_back(at);
    readings.values.push_back(series.values[i]);
  }
  return readings;
}

/// Every placement with its time, in order of arrival: each ends at the latest where the next of
/// its channel begins. Of two that begin together the one told later is in force.
std::vector<Placed> placements_of(const std::vector<db::Record>& records, const Clock& clock) {
  std::vector<Placed> all;
  for (const auto& record : records) {
    const auto* placement = std::get_if<db::Placement>(&record.what);
    if (placement == nullptr) continue;
    all.push_back({placement, clock.seconds(placement->from).value_or(-never),
                   clock.seconds(placement->until).value_or(never)});
  }
  std::map<std::string, std::vector<Placed*>> by_channel;
  for (auto& placed : all) by_channel[placed.placement->channel].push_back(&placed);
  for (auto& [channel, own] : by_channel) {
    std::ranges::stable_sort(own, {}, &Placed::from_s);
    for (std::size_t i = 0; i + 1 < own.size(); ++i) {
      own[i]->until_s = std::min(own[i]->until_s, own[i + 1]->from_s);
    }
  }
  return all;
}

void add_probes(const std::vector<db::Record>& records, std::span<const db::Series> samples,
                const Clock& clock, burns::Assembled& made) {
  std::vector<std::string> used;
  for (const auto& placed : placements_of(records, clock)) {
    auto probe = probe_of(*placed.placement);
    used.push_back(probe.channel);
    const auto series = std::ranges::find(samples, probe.channel, &db::Series::channel);
    if (series != samples.end()) probe.readings = readings_of(*series, clock, placed);
    if (probe.readings.seconds.empty()) {
      made.assumed.push_back(fmt::format("'{}' has no reading{}; left out", probe.channel,
                                         probe.spot.empty() ? "" : " at '" + probe.spot + "'"));
      continue;
    }
    put_on_grate(probe, made.burn.pit, made.assumed);
    made.burn.probes.push_back(std::move(probe));
  }
  for (const auto& series : samples) {
    if (std::ranges::find(used, series.channel) == used.end()) {
      made.assumed.push_back(fmt::format("no probe uses '{}'", series.channel));
    }
  }
}

void add_stints(const std::vector<db::Record>& records, const Clock& clock, Burn& burn) {
  for (const auto& record : records) {
    if (const auto* turn = std::get_if<db::Turn>(&record.what)) {
      burn.stints.push_back({turn->setting, turn->adjustments, clock.seconds(turn->from),
                             clock.seconds(turn->to).value_or(never)});
    }
  }
  std::ranges::stable_sort(burn.stints, {}, &Stint::from_s);
  for (std::size_t i = 0; i < burn.stints.size(); ++i) {
    auto& stint = burn.stints[i];
    if (i + 1 < burn.stints.size()) stint.to_s = std::min(stint.to_s, burn.stints[i + 1].from_s);
    // An end that was said stands even beyond the samples; one that was not is the last sample.
    if (stint.to_s == never) stint.to_s = clock.last_s;
  }
  std::erase_if(burn.stints, [&](const Stint& stint) {
    return stint.to_s <= stint.from_s || stint.from_s >= clock.last_s || stint.to_s <= 0.0;
  });
}

void add_events(const std::vector<db::Record>& records, const Clock& clock, Burn& burn) {
  for (const auto& record : records) {
    if (const auto* mark = std::get_if<db::Mark>(&record.what)) {
      burn.events.push_back({mark->kind, clock.seconds(mark->at), clock.seconds(mark->until),
                             mark->channel, mark->piece, mark->text});
    }
  }
  std::ranges::stable_sort(burn.events, {}, &Event::at_s);
}

void add_pieces(const std::vector<db::Record>& records, const Clock& clock, Burn& burn) {
  for (const auto& record : records) {
    if (const auto* food = std::get_if<db::Food>(&record.what)) {
      burn.pieces.push_back({food->name, food->cut, food->mass_kg, food->intact,
                             clock.seconds(food->on), clock.seconds(food->off), food->rule,
                             food->by, food->action});
    }
  }
}

}  // namespace

Probe probe_of(const db::Placement& placement) {
  Probe probe;
  probe.channel = placement.channel;
  probe.role = placement.role;
  probe.spot = placement.spot;
  probe.grate = placement.grate;
  probe.x_m = placement.x_m;
  probe.y_m = placement.y_m;
  probe.z_m = placement.z_m;
  probe.piece = placement.piece;
  probe.correction = TemperatureDelta::from_kelvins(placement.correction_k);
  if (placement.uncertainty_k) {
    probe.uncertainty = TemperatureDelta::from_kelvins(*placement.uncertainty_k);
  }
  probe.checked = placement.checked;
  return probe;
}

Result<burns::Assembled> live_burn(const db::BurnLine& line, std::span<const db::Record> records,
                                   std::span<const db::Series> samples) {
  const auto clock = clock_of(samples);
  if (!clock) {
    return fail(ErrorKind::bad_input, "burn '{}' has no reading yet", line.name);
  }
  burns::Assembled made;
  auto& burn = made.burn;
  burn.title = line.title.empty() ? line.name : line.title;
  burn.scale = line.scale;
  const bool celsius = line.scale == Scale::celsius;
  burn.matters = line.matters.value_or(celsius ? TemperatureDelta::from_kelvins(5)
                                               : TemperatureDelta::from_fahrenheit_degrees(10));
  burn.clock = {clock->zero, line.timezone};
  burn.pit = line.pit;
  const auto in_force = db::standing(records);
  add_pieces(in_force, *clock, burn);
  add_stints(in_force, *clock, burn);
  add_probes(in_force, samples, *clock, made);
  add_events(in_force, *clock, burn);
  return made;
}

}  // namespace pitwright::keeping
