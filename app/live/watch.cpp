#include "live/watch.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <set>
#include <utility>

#include <fmt/core.h>
#include <fmt/format.h>

#include "live/fire_json.h"
#include "report/call_json.h"

namespace pitwright::live {
namespace {

constexpr std::array scales = {Scale::fahrenheit, Scale::celsius};

/// Burns that somebody watches, by the numbers that topic_of put before the scale.
std::set<db::BurnId> watched_burns(const wire::Hub& hub) {
  std::set<db::BurnId> burns;
  for (const auto& topic : hub.watched()) {
    std::int64_t number = 0;
    std::from_chars(topic.data(), topic.data() + topic.size(), number);
    burns.insert(db::BurnId{number});
  }
  return burns;
}

/// Cuts every probe down to its last reading.
void keep_newest(Burn& burn) {
  for (auto& probe : burn.probes) {
    auto& readings = probe.readings;
    if (readings.seconds.size() < 2) continue;
    readings.seconds = {readings.seconds.back()};
    readings.values = {readings.values.back()};
  }
}

/// The last place of a channel.
Probe* probe_of(Burn& burn, const std::string& channel) {
  Probe* found = nullptr;
  for (auto& probe : burn.probes)
    if (probe.channel == channel) found = &probe;
  return found;
}

}  // namespace

std::string topic_of(db::BurnId burn, Scale scale) {
  return fmt::format("{}{}", static_cast<std::int64_t>(burn),
                     scale == Scale::fahrenheit ? 'F' : 'C');
}

std::string fire_document(const Standing& standing, const WorkedCall& call, Scale scale,
                          db::Stamp now) {
  using Span = std::chrono::duration<double>;
  std::optional<double> silent_s;
  // By stamp and by arrival: a practice burn's stamps lie in the past, a logger's clock may be off.
  if (standing.line.last)
    silent_s = std::min(Span(now - *standing.line.last).count(),
                        Span(std::chrono::steady_clock::now() - standing.heard).count());
  return fire_json({*standing.burn, call.made, scale, standing.is_live(), silent_s});
}

Watch::Watch(db::Store& quick, Worked& worked, Threads threads, std::function<db::Stamp()> now,
             Options options)
    : quick_(quick),
      worked_(worked),
      threads_(std::move(threads)),
      now_(std::move(now)),
      options_(options) {}

Result<void> Watch::start(const db::BurnLine& line, Seen& seen) {
  auto burn = burn_of(quick_, line);
  if (!burn) return std::unexpected(burn.error());
  seen.newest = std::make_shared<Burn>(std::move(*burn));
  keep_newest(*seen.newest);
  seen.sequence = line.sequence;
  seen.fire_due = true;
  return {};
}

Result<void> Watch::take_in(const db::BurnLine& line, Seen& seen) {
  const auto records = quick_.records(line.id, seen.sequence);
  if (!records) return std::unexpected(records.error());
  // Where something was told, or nothing is known yet, places and settings may be others now.
  if (!seen.newest || !seen.newest->clock.zero || !records->empty()) {
    seen.unplaced.clear();
    return start(line, seen);
  }
  const auto arrived = quick_.samples(line.id, {{}, {}, {}, seen.sequence});
  if (!arrived) return std::unexpected(arrived.error());
  const auto is_new = [&](const db::Series& series) {
    return probe_of(*seen.newest, series.channel) == nullptr &&
           !seen.unplaced.contains(series.channel);
  };
  if (std::ranges::any_of(*arrived, is_new)) {  // heard for the first time
    if (auto started = start(line, seen); !started) return started;
    for (const auto& series : *arrived)
      if (is_new(series)) seen.unplaced.insert(series.channel);
    return {};
  }
  for (const auto& series : *arrived) {
    auto* probe = probe_of(*seen.newest, series.channel);
    if (probe == nullptr) continue;
    const double at_s =
        std::chrono::duration<double>(series.at.back() - *seen.newest->clock.zero).count();
    auto& readings = probe->readings;
    if (!readings.seconds.empty() && at_s < readings.seconds.back()) continue;  // it came late
    readings.seconds = {at_s};
    readings.values = {series.values.back()};
  }
  seen.sequence = line.sequence;
  seen.fire_due = true;
  return {};
}

Watch::Told Watch::work_out(db::BurnId burn) {
  Told told;
  const auto standing = worked_.burn(burn);
  if (!standing) return told;
  const auto call = worked_.call(*standing, {});
  for (const auto scale : scales)
    told.fires[scale] = fire_document(*standing, *call, scale, now_());
  if (call->made) {
    auto whole = *call->made;
    whole.live.reset();  // the state of the running stint is the fire's matter
    told.call = report::call_json({whole, *call->burn, Scale::celsius});
  }
  return told;
}

void Watch::ask_for_fire(const db::BurnLine& line, Seen& seen) {
  seen.fire_at = Clock::now();
  seen.fire_due = false;
  seen.fire_pending = true;
  threads_.on_worker([this, id = line.id] {
    Told told;
    try {
      told = work_out(id);
    } catch (const std::exception& mistake) {  // costs this look only; the next one is made anew
      fmt::print(stderr, "pitwright: a call could not be made: {}\n", mistake.what());
    }
    threads_.on_server([this, id, told = std::move(told)](wire::Hub& hub) { tell(hub, id, told); });
  });
}

void Watch::tell(wire::Hub& hub, db::BurnId burn, Told told) {
  auto& seen = seen_[burn];
  seen.fire_pending = false;
  const bool changed = !told.call.empty() && told.call != seen.call;
  if (changed) seen.call = std::move(told.call);
  for (const auto& [scale, fire] : told.fires) {
    hub.publish(topic_of(burn, scale), "fire", fire);
    if (changed)
      hub.publish(topic_of(burn, scale), "changed",
                  R"({"documents":["burn","call","lay","pictures"]})");
  }
}

Result<void> Watch::look_at(wire::Hub& hub, const db::BurnLine& line, Seen& seen) {
  if (line.sequence != seen.sequence) {
    if (auto taken = take_in(line, seen); !taken) return taken;
    for (const auto scale : scales)
      if (hub.is_watched(topic_of(line.id, scale)))
        hub.publish(topic_of(line.id, scale), "latest", latest_json(*seen.newest, scale));
  }
  const auto since = Clock::now() - seen.fire_at;
  const bool due = (seen.fire_due && since >= options_.calm) || since >= options_.silence;
  if (due && !seen.fire_pending) ask_for_fire(line, seen);
  return {};
}

void Watch::look(wire::Hub& hub) {
  trouble_.clear();
  for (const auto burn : watched_burns(hub)) {
    const auto line = quick_.burn(burn);
    if (!line) {
      trouble_ = line.error().what;
      continue;
    }
    if (line->state == db::BurnState::live) {
      if (auto looked = look_at(hub, *line, seen_[burn]); !looked) trouble_ = looked.error().what;
    } else if (const auto found = seen_.find(burn);
               found != seen_.end() && !found->second.is_out && !found->second.fire_pending) {
      found->second.is_out = true;
      found->second.call.clear();  // so that all is asked for again
      ask_for_fire(*line, found->second);
    }
  }
}

}  // namespace pitwright::live
