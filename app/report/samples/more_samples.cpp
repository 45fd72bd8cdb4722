#include <fmt/format.h>

#include "samples/sample_calls.h"
#include "samples/sample_parts.h"

namespace pitwright::samples {
namespace {

using call::TroubleCode;
using call::TroubleKind;
using call::Word;

/// One trouble of every code, so that each finds its words.
std::vector<call::Trouble> every_trouble() {
  return {
      {TroubleKind::probe, TroubleCode::probe_dead, "X9", {}, 0.0},
      {TroubleKind::probe, TroubleCode::probe_frozen, "A1", 900.0, 480.0},
      {TroubleKind::probe, TroubleCode::probe_missing, "A1", 1200.0, 1020.0},
      {TroubleKind::probe, TroubleCode::probe_touching, "A2", {}, 0.35},
      {TroubleKind::probe, TroubleCode::probe_jump, "A2", 3000.0, -4.0},
      {TroubleKind::lid, TroubleCode::lid_marked, "", 2400.0, 315.0},
      {TroubleKind::lid, TroubleCode::lid_unmarked, "", 4200.0, 21.0},
      {TroubleKind::lid, TroubleCode::stint_spoiled, "Bжж", 4200.0, 0.0, 1},
      {TroubleKind::lid, TroubleCode::lid_one_sided, "links außen", 4200.0, 3.3, 1},
      {TroubleKind::soak, TroubleCode::still_warming, "A", 1900.0, 3.1, 0},
      {TroubleKind::soak, TroubleCode::soak_unknown, "", {}, 1500.0},
      {TroubleKind::weather, TroubleCode::weather_changed, "wind: A to B", {}, 20.9},
      {TroubleKind::weather, TroubleCode::weather_changed, "outside: A to B", {}, -9.4},
      {TroubleKind::weather, TroubleCode::weather_balanced, "wind", 4800.0, 20.9},
      {TroubleKind::weather, TroubleCode::weather_balanced, "outside", 4800.0, -9.4, {}, "", 4.7},
      {TroubleKind::order, TroubleCode::order_confounded, "", {}, 0.0},
      {TroubleKind::order, TroubleCode::one_stint_decides, "level", 4000.0, 4.4, 1},
      {TroubleKind::order, TroubleCode::halves_disagree, "left-right", {}, 5.0},
      {TroubleKind::probe, TroubleCode::one_probe_decides, "A2", {}, 3.3},
      {TroubleKind::clock, TroubleCode::clocks_uncertain, "", {}, 20.0},
      {TroubleKind::probe, TroubleCode::probe_offset, "A1", {}, 2.8, {}, "A2"}};
}

}  // namespace

SampleCall one_position() {
  SampleCall sample{"one_position", burn_of("First look", 90), {}};
  sample.burn.clock = {};
  sample.burn.scale = Scale::celsius;
  auto& report = sample.report;
  report.settings = {"baffle 2 in, stack half, water pan full", "baffle 4 in"};
  report.swing = {{}, 0.0};
  report.stints = stints_of({0, 1}, 30, 30, 15);
  report.stints[1].counted_from_s = report.stints[1].counted_to_s = {};
  report.stints[1].state = call::StintState::settling;
  report.level = {at_settings({reading(268.1, 6.1)}), {}};
  report.level.by_setting.push_back({1, {}, 0.0});
  report.spots = {{"left", "A1", {at_settings({difference(9, 4)}, 4.0), {}}, {}},
                  {"right", "A2", {at_settings({difference(-9, 4)}, 4.0), {}}, {}}};
  report.tilts = {{call::Axis::left_right, 0.5, {at_settings({difference(-18, 6)}, 4.0), {}}}};
  report.spread = {at_settings({difference(18, 6)}, 4.0), {}};
  return sample;
}

SampleCall running_burn() {
  SampleCall sample{"running_burn", burn_of("Läuft noch", 130), {}};
  auto& burn = sample.burn;
  add_probe(burn, "A1", Role::air, "links außen", 0.1, 0.1, 0.1);
  burn.probes.back().uncertainty = TemperatureDelta::from_fahrenheit_degrees(1);
  add_probe(burn, "A2", Role::air, "左前の棚", 0.1, 0.1, 0.1);
  add_probe(burn, "wind", Role::wind, "", 0, 0, 0);
  add_probe(burn, "outside", Role::outside, "", 0, 0, 0);
  burn.stints = {{"A", {}, 1800, 3780}, {"Bжж", {}, 3780, 5760}, {"Bжж", {}, 5760, 7740}};
  burn.clock_uncertainty_s = 20.0;
  auto& report = sample.report;
  report.settings = {"A", "Bжж"};
  report.swing = {412.0, 10.1};
  report.swings = {{"A1", {410.0, 9.9}}};
  report.stints = stints_of({0, 1, 1}, 30, 33, 12);
  report.stints[2].state = call::StintState::counting;
  report.level = {at_settings({reading(250, 10), reading(254, 10)}, 2.0),
                  {change({0, 1}, -0.0, 14, 30, Word::not_yet, {})}};
  report.level.changes[0].borrowed = true;
  call::Change unknown;
  unknown.from = 0;
  unknown.to = 1;
  unknown.word = Word::muddled;
  unknown.because = {1, 3};
  report.spots = {{"links außen",
                   "A1",
                   {at_settings({difference(3, 2), difference(4, 2)}, 1.0),
                    {change({0, 1}, 1, 6, 12, Word::not_yet, 1)}},
                   {unknown}},
                  {"左前の棚",
                   "A2",
                   {at_settings({difference(-3, 5), difference(-4, 5)}, 4.0), {unknown}},
                   {unknown}}};
  report.spread = {{}, {unknown}};
  report.troubles = every_trouble();
  report.live = call::Live{std::nullopt, call::StintState::counting, 660, 1200, true, 7900.0, 0};
  return sample;
}

SampleCall nothing_counted() {
  SampleCall sample{"nothing_counted", burn_of("", 20), {}};
  sample.report.settings = {"A"};
  sample.report.stints = stints_of({0}, 5, 15, 5);
  sample.report.stints[0].counted_from_s = sample.report.stints[0].counted_to_s = {};
  sample.report.stints[0].state = call::StintState::heating;
  sample.report.level.by_setting = {{0, {}, 0.0}};
  sample.report.troubles = {{TroubleKind::soak, TroubleCode::still_warming, "A", 400.0, 12.0, 0}};
  sample.report.live = call::Live{std::nullopt, call::StintState::heating, 0, 0, false, {}, {}};
  return sample;
}

SampleCall crowded_chamber() {
  SampleCall sample{"crowded_chamber", burn_of("Sixty-four wires", 400), {}};
  auto& report = sample.report;
  report.settings = {"fan off, tray left of center", "fan on", "fan on, tray right of center", "D"};
  report.soaked_at_s = 40 * 60.0;
  report.swing = {300.0, 4.0};
  report.stints = stints_of({0, 1, 2, 3, 3, 2, 1, 0}, 45, 40, 20);
  const auto changes = [&](double step, double half, Word word) {
    std::vector<call::Change> all;
    for (int from = 0; from < 4; ++from) {
      for (int to = from + 1; to < 4; ++to) {
        all.push_back(change({from, to}, step * (to - from), half, 1.5 * half, word, 3));
      }
    }
    return all;
  };
  std::vector<call::Estimate> levels(4, reading(250, 5));
  report.level = {at_settings(levels, 0.5), changes(1.0, 9, Word::not_yet)};
  for (int i = 0; i < 64; ++i) {
    const std::vector<call::Estimate> runs(4, difference(30.0 - ((37 * i) % 64), 4.2));
    const auto name = fmt::format("T{}", i + 1);
    report.spots.push_back({fmt::format("shelf {} place {}", i / 16 + 1, i % 16 + 1),
                            name,
                            {at_settings(runs, 4.0), changes(0.2, 1.2, Word::no_odds)},
                            {}});
  }
  report.spread = {at_settings(std::vector<call::Estimate>(4, difference(63, 6)), 4.0),
                   changes(0.5, 5, Word::not_yet)};
  return sample;
}

std::vector<SampleCall> all_samples() {
  return {tray_moved(),    three_baffles(), damper_opened(),   still_heating(),  one_position(),
          fouled_sensor(), running_burn(),  nothing_counted(), crowded_chamber()};
}

}  // namespace pitwright::samples
