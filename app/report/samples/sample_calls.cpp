#include "samples/sample_calls.h"

#include <cmath>

#include "samples/sample_parts.h"

namespace pitwright::samples {
namespace {

using call::Axis;
using call::Word;

constexpr std::pair ab = {0, 1};
constexpr std::pair ac = {0, 2};
constexpr std::pair bc = {1, 2};

/// A spot whose own reading moved by its run and by the level.
call::SpotCall spot_of(const std::string& channel, const std::string& spot,
                       const std::vector<double>& runs, std::vector<call::Change> changes,
                       double level_change) {
  std::vector<call::Estimate> estimates;
  for (const double run : runs) estimates.push_back(difference(run, 4.4));
  call::SpotCall made{spot, channel, {at_settings(estimates, 4.0), std::move(changes)}, {}};
  for (const auto& one : made.runs.changes) {
    auto own = change({one.from, one.to}, 1.8 * one.estimate->value + level_change, 9.5, 12,
                      Word::not_yet);
    made.reading_changes.push_back(own);
  }
  return made;
}

}  // namespace

SampleCall tray_moved() {
  SampleCall sample{"tray_moved", burn_of("Drip tray moved one inch", 175), {}};
  auto& burn = sample.burn;
  burn.pit.width_m = 0.66;
  for (const auto& [channel, spot, x, y] : {std::tuple{"L1", "left front", 0.1, 0.1},
                                            {"L2", "left back", 0.1, 0.4},
                                            {"R1", "right front", 0.56, 0.1},
                                            {"R2", "right back", 0.56, 0.4}}) {
    add_probe(burn, channel, Role::air, spot, x, y, 0.2);
  }
  add_probe(burn, "P", Role::dial, "left wall", 0.02, 0.25, 0.3);
  auto& report = sample.report;
  report.settings = {"A", "B"};
  report.soaked_at_s = 32 * 60.0;
  report.swing = {270.0, 10.2};
  report.swings = {{"P", {270.0, 10.2}}, {"L1", {271.0, 9.6}}, {"R1", {{}, 8.9}}};
  report.stints = stints_of({0, 1, 1, 0}, 35, 35, 18);
  report.stints[2].excluded_s = 270;
  report.stints[2].why = "settled 17 min after the change; the lid was open";
  report.level = {at_settings({reading(251.2, 7.1), reading(259.4, 7.0)}, 2.0),
                  {change(ab, 8.2, 8.8, 11.4, Word::not_yet, 2)}};
  report.spots = {spot_of("L1", "left front", {9.2, 0.3},
                          {change(ab, -8.9, 1.9, 3.1, Word::too_close, 2)}, 8.2),
                  spot_of("L2", "left back", {7.1, -0.8},
                          {change(ab, -7.9, 1.9, 3.1, Word::too_close, 3)}, 8.2),
                  spot_of("R1", "right front", {-6.3, 1.6},
                          {change(ab, 7.9, 1.9, 3.1, Word::too_close, 3)}, 8.2),
                  spot_of("R2", "right back", {-8.1, 0.9},
                          {change(ab, 9.0, 2.0, 3.1, Word::too_close, {})}, 8.2)};
  report.tilts = {{Axis::left_right,
                   0.46,
                   {at_settings({difference(-15.2, 4.5), difference(1.4, 4.5)}, 4.0),
                    {change(ab, 16.6, 2.1, 3.0, Word::clear)}}},
                  {Axis::front_back,
                   0.30,
                   {at_settings({difference(-2.0, 4.5), difference(-1.1, 4.5)}, 4.0),
                    {change(ab, 0.9, 2.0, 2.8, Word::no_odds)}}}};
  report.spread = {at_settings({difference(17.3, 6.1), difference(3.1, 3.0)}, 4.0),
                   {change(ab, -14.2, 3.4, 4.1, Word::clear)}};
  report.dial_gap = call::Quantity{at_settings({difference(-1.3, 7.4), difference(-8.8, 7.4)}, 4.0),
                                   {change(ab, -7.5, 2.6, 4.0, Word::too_close, 4)}};
  report.troubles = {{call::TroubleKind::lid, call::TroubleCode::lid_marked, "", 6600.0, 270.0}};
  report.lids = {{6600.0,
                  6675.0,
                  6870.0,
                  8100.0,
                  21.0,
                  true,
                  2,
                  3 / 1.8,
                  {{0, 190.0, 0.3, false},
                   {1, 840.0, 3.1, true},
                   {2, 160.0, -0.1, false},
                   {3, std::nullopt, NAN, false}}}};
  report.explain = {"The left-right tilt rests on 4 stints and 15 whole swings."};
  return sample;
}

SampleCall three_baffles() {
  SampleCall sample{"three_baffles", burn_of("Rear baffle, three positions", 290), {}};
  sample.burn.pit.name = "Long barrel";
  auto& report = sample.report;
  report.settings = {"A", "B", "C"};
  report.soaked_at_s = 41 * 60.0;
  report.swing = {{}, 19.7};
  report.stints = stints_of({0, 1, 2, 2, 1, 0}, 45, 40, 20);
  report.level = {
      at_settings({reading(263, 9), reading(258, 9), reading(255, 9)}, 1.6),
      {change(ab, -5, 13, 17, Word::not_yet, 6), change(ac, -8, 13, 17, Word::not_yet, 6),
       change(bc, -3, 11, 15, Word::not_yet, 8)}};
  const auto spot = [&](const std::string& name, double a, double b, double c, Word to_b, Word to_c,
                        Word b_to_c) {
    add_probe(sample.burn, name, Role::air, name, 0.1, 0.1, 0.1);
    report.spots.push_back(
        spot_of(name, name, {a, b, c},
                {change(ab, b - a, 2.6, 4.0, to_b, 4), change(ac, c - a, 2.6, 4.0, to_c, 4),
                 change(bc, c - b, 2.6, 4.0, b_to_c, 4)},
                -5));
  };
  spot("F1", 22, 8, -5, Word::too_close, Word::clear, Word::too_close);
  spot("F2", 17, 5, -6, Word::too_close, Word::clear, Word::too_close);
  spot("M1", 1, 0, 0, Word::no_odds, Word::no_odds, Word::no_odds);
  spot("M2", -2, -2, -1, Word::no_odds, Word::no_odds, Word::no_odds);
  spot("S1", -18, -5, 7, Word::too_close, Word::clear, Word::too_close);
  spot("S2", -20, -6, 5, Word::clear, Word::clear, Word::too_close);
  report.tilts = {{Axis::left_right,
                   0.9,
                   {at_settings({difference(38, 5), difference(12, 5), difference(-12, 5)}, 4.0),
                    {change(ab, -26, 4, 6, Word::clear), change(ac, -50, 4, 6, Word::clear),
                     change(bc, -24, 4, 6, Word::clear)}}}};
  report.spread = {at_settings({difference(42, 6), difference(14, 5), difference(13, 5)}, 4.0),
                   {change(ab, -28, 4, 6, Word::clear), change(ac, -29, 4, 6, Word::clear),
                    change(bc, -1, 4, 6, Word::no_odds)}};
  report.troubles = {
      {call::TroubleKind::probe, call::TroubleCode::probe_missing, "M2", 9000., 1020.},
      {call::TroubleKind::weather, call::TroubleCode::weather_changed, "", {}, 3.}};
  return sample;
}

SampleCall damper_opened() {
  SampleCall sample{"damper_opened", burn_of("Stack damper, half to full", 200), {}};
  auto& report = sample.report;
  report.settings = {"half", "full"};
  report.soaked_at_s = 50 * 60.0;
  report.swing = {480.0, 7.8};
  report.stints = stints_of({0, 1, 1, 0}, 55, 35, 17);
  report.level = {at_settings({reading(240, 8), reading(251, 8)}, 1.6),
                  {change(ab, 11, 13, 16, Word::not_yet, 2)}};
  report.spots = {spot_of("T", "top", {6, 6.2}, {change(ab, 0.2, 1.4, 2.2, Word::no_odds)}, 11),
                  spot_of("M", "middle", {1, 0.8}, {change(ab, -0.2, 1.4, 2.2, Word::no_odds)}, 11),
                  spot_of("B", "bottom", {-7, -7}, {change(ab, 0.0, 0.4, 0.6, Word::no_odds)}, 11)};
  report.tilts = {{Axis::top_bottom,
                   0.6,
                   {at_settings({difference(13, 5), difference(13.2, 5)}, 4.0),
                    {change(ab, 0.2, 2.0, 2.7, Word::no_odds)}}}};
  report.spread = {at_settings({difference(13, 5), difference(13.2, 5)}, 4.0),
                   {change(ab, 0.2, 2.6, 3.0, Word::no_odds)}};
  return sample;
}

SampleCall still_heating() {
  SampleCall sample = damper_opened();
  sample.name = "still_heating";
  sample.burn.title = "Brick room, started too early";
  auto& report = sample.report;
  report.troubles = {{call::TroubleKind::soak, call::TroubleCode::still_warming, "", {}, 6.2},
                     {call::TroubleKind::order, call::TroubleCode::order_confounded, "", {}, 0.0}};
  report.soaked_at_s = {};
  report.level.changes = {muddled(ab, 11, 13, {0, 1})};
  report.level.changes[0].borrowed = true;
  for (auto& spot : report.spots) spot.runs.changes = {muddled(ab, 0.2, 2, {0})};
  report.tilts[0].tilt.changes = {muddled(ab, 0.2, 2, {0})};
  report.spread.changes = {muddled(ab, 0.2, 2, {})};
  return sample;
}

SampleCall fouled_sensor() {
  SampleCall sample = damper_opened();
  sample.name = "fouled_sensor";
  sample.burn.title = "Control sensor wiped";
  add_probe(sample.burn, "P", Role::dial, "", 0.02, 0.2, 0.3);
  auto& report = sample.report;
  report.settings = {"before", "after"};
  report.level = {at_settings({reading(274, 5), reading(255, 5)}, 1.6),
                  {change(ab, -19, 4, 6, Word::clear)}};
  report.dial_gap = call::Quantity{at_settings({difference(-24, 5), difference(-5, 5)}, 4.0),
                                   {change(ab, 19, 4, 6, Word::clear)}};
  return sample;
}

}  // namespace pitwright::samples
