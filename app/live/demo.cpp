#include "live/demo.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <span>

#include <fmt/format.h>

#include "keeping/pack.h"
#include "keeping/unpack.h"
#include "rehearsal/burn_files.h"
#include "rehearse/scenarios.h"

namespace pitwright::live {
namespace {

using std::chrono::duration;
using std::chrono::duration_cast;
using std::chrono::microseconds;

constexpr std::string_view pit_name = "hopper-tray";

db::Stamp at(db::Stamp zero, double seconds) {
  return zero + duration_cast<microseconds>(duration<double>(seconds));
}

std::vector<db::Record> placements(const Burn& burn, db::Stamp now) {
  std::vector<db::Record> records;
  for (const auto& probe : burn.probes) {
    db::Placement placement{probe.channel,
                            probe.role,
                            probe.spot,
                            probe.grate,
                            probe.piece,
                            probe.x_m,
                            probe.y_m,
                            probe.z_m,
                            probe.correction.kelvins(),
                            {},
                            probe.checked,
                            {},
                            {}};
    if (probe.uncertainty) placement.uncertainty_k = probe.uncertainty->kelvins();
    records.push_back(
        {fmt::format("spot-{}", records.size()), "", "demo", now, std::move(placement), 0});
  }
  return records;
}

std::vector<db::Record> turns(const Burn& burn, db::Stamp lit) {
  std::vector<db::Record> records;
  for (const auto& stint : burn.stints) {
    const auto from = at(lit, stint.from_s);
    records.push_back({fmt::format("setting-{}", records.size()), "", "demo", from,
                       db::Turn{stint.setting, stint.adjustments, from, {}}, 0});
  }
  return records;
}

std::vector<db::Sample> samples(const Burn& burn, db::Stamp lit) {
  std::vector<db::Sample> all;
  for (const auto& probe : burn.probes)
    for (std::size_t i = 0; i < probe.readings.seconds.size(); ++i)
      all.push_back({probe.channel, at(lit, probe.readings.seconds[i]), probe.readings.values[i]});
  std::ranges::stable_sort(all, {}, &db::Sample::at);
  return all;
}

Result<rehearse::RehearsedBurn> practice_burn() {
  const auto scenario = rehearse::make_scenario(pit_name);
  if (!scenario) return std::unexpected(scenario.error());
  return rehearse::rehearse(*scenario, 1, {.with_truth = false});
}

}  // namespace

Result<std::string> keep_demo(db::Store& store) {
  const auto made = practice_burn();
  if (!made) return std::unexpected(made.error());
  const auto folder = keeping::TemporaryDirectory::in(std::filesystem::temp_directory_path());
  if (!folder) return std::unexpected(folder.error());
  if (auto written = rehearsal::write_burn(folder->path(), *made); !written)
    return std::unexpected(written.error());
  const auto packed = keeping::pack(folder->path(), "practice");
  if (!packed) return std::unexpected(packed.error());
  const auto kept = store.keep(packed->burn);
  if (!kept) return std::unexpected(kept.error());
  return kept->name;
}

Result<std::string> Demo::start(db::Store& store, double speed, db::Stamp now) {
  const std::lock_guard lock(mutex_);
  if (playing_) return playing_->name;
  const auto made = practice_burn();
  if (!made) return std::unexpected(made.error());
  const auto& burn = made->burn;
  const double length_s = burn.last_s() - std::min(0.0, burn.first_s());
  const auto number = std::chrono::floor<std::chrono::seconds>(now).time_since_epoch().count();
  Playing playing;
  playing.name = fmt::format("practice-{}", number);
  playing.began = now;
  playing.lit = at(now, length_s / speed - length_s);
  playing.speed = speed;
  auto light = db::NewBurn{playing.name, burn.title + " (practice)", burn.scale,
                           burn.matters, burn.clock.timezone,        burn.pit,
                           playing.lit};
  const auto id = store.light(light);
  if (!id) return std::unexpected(id.error());
  if (const auto told = store.tell(*id, placements(burn, now)); !told)
    return std::unexpected(told.error());
  playing.id = *id;
  playing.samples = samples(burn, playing.lit);
  playing.turns = turns(burn, playing.lit);
  playing_ = std::move(playing);
  return playing_->name;
}

Result<void> Demo::play(db::Store& store, db::Stamp now) {
  const std::unique_lock lock(mutex_,
                              std::try_to_lock);  // one is being made up: nothing is due yet
  if (!lock.owns_lock() || !playing_) return {};
  auto& it = *playing_;
  const auto line = store.burn(it.id);
  if (!line) return std::unexpected(line.error());
  if (line->state != db::BurnState::live) {  // somebody closed it
    playing_.reset();
    return {};
  }
  const double wall_s = duration<double>(now - it.began).count();
  const auto until = at(it.lit, wall_s * it.speed);
  const auto turn_end = std::ranges::upper_bound(
      it.turns, until, {}, [](const db::Record& one) { return std::get<db::Turn>(one.what).from; });
  const auto turns_due = std::span(it.turns).subspan(
      it.turns_done, static_cast<std::size_t>(turn_end - it.turns.begin()) - it.turns_done);
  if (!turns_due.empty()) {
    if (const auto told = store.tell(it.id, turns_due); !told) return std::unexpected(told.error());
    it.turns_done += turns_due.size();
  }
  const auto end = std::ranges::upper_bound(it.samples, until, {}, &db::Sample::at);
  const auto due =
      std::span(it.samples)
          .subspan(it.samples_done,
                   static_cast<std::size_t>(end - it.samples.begin()) - it.samples_done);
  if (!due.empty()) {
    if (const auto kept = store.append(it.id, due); !kept) return std::unexpected(kept.error());
    it.samples_done += due.size();
  }
  if (it.samples_done < it.samples.size()) return {};
  const auto closed = store.close(it.id, it.samples.back().at);
  playing_.reset();
  if (!closed) return std::unexpected(closed.error());
  return {};
}

}  // namespace pitwright::live
