#include "rehearse/bodies.h"
#include "rehearse/scenarios.h"

namespace pitwright::rehearse {

Scenario clay_pot() {
  auto s = started("S4", "clay-pot", "Clay pot, wind cowl turned: nothing changes",
                   "Clay pot on the terrace");
  auto& m = s.model;
  m.pit.width_m = 0.46;
  m.pit.depth_m = 0.46;
  m.pit.height_m = 0.5;
  m.pit.grates = {{"grate", 0.3}};
  m.set_c = degF(250).celsius();
  m.body = ceramic_egg();
  m.fire = charcoal_fan(500);
  m.plate_excess_k = 46;
  m.spots = {spot_at("N", "grate", 0.23, 0.38, 0.3), spot_at("E", "grate", 0.38, 0.23, 0.3),
             spot_at("S", "grate", 0.23, 0.08, 0.3), spot_at("W", "grate", 0.08, 0.23, 0.3)};
  m.disturbance = {.gust_m_s = 1.5,
                   .drift_level_k = f_deg(3),
                   .drift_lay_k = f_deg(0.5),
                   .drift_lag_s = 3600,
                   .resetting_level_k = f_deg(1),
                   .resetting_lay_k = f_deg(0.5)};
  add_settings(m, {"A", "B"}, "cowl", {"to the wind", "from the wind"});
  aim_swing(m, "A", 600, f_deg(6));
  const auto runs = in_kelvins({3, -2, -4, 3});
  s.targets = {{"A", degF(250).celsius(), runs}, {"B", degF(250).celsius(), runs}};
  s.kit = plain_kit(m);
  s.plan = plain_plan({"A", "B", "B", "A"}, 2700);
  return s;
}

Scenario brick_room_early() {
  auto s = started("S5", "brick-room", "Brick room, started before it was soaked",
                   "Brick room under the arch");
  auto& m = s.model;
  m.pit.width_m = 1.5;
  m.pit.depth_m = 0.9;
  m.pit.height_m = 1.2;
  m.pit.grates = {{"grate", 0.6}};
  m.set_c = degF(260).celsius();
  m.body = brick_room();
  // The skin of the brick that a fire of one afternoon reaches, with what it passes on: one slow
  // part, so that the level nears its end with a time constant of 45 min.
  m.body.wall_j_k = 66000;
  m.body.wall_out_w_k = 15;
  m.body.wall_deep_w_k = 0.01;
  m.body.deep_j_k = 2000;
  m.fire = {.kind = FireKind::steady,
            .high_w = 3600,
            .dead_time_s = 10,
            .bed_lag_s = 300,
            .flame_lag_s = 60};
  m.plate_excess_k = 100;
  for (int i = 0; i < 6; ++i)
    m.spots.push_back(spot_at("K" + std::to_string(i + 1), "grate", 0.25 + 0.5 * (i / 2),
                              i % 2 == 0 ? 0.25 : 0.65, 0.6));
  m.disturbance = {.gust_m_s = 0.6,
                   .drift_level_k = f_deg(0.8),
                   .drift_lay_k = f_deg(0.5),
                   .resetting_level_k = f_deg(0.7),
                   .resetting_lay_k = f_deg(0.5)};
  add_settings(m, {"A", "B"}, "flue plate", {"half", "open"});
  const auto runs = in_kelvins({7, 5, 1, 0, -6, -7});
  s.targets = {{"A", degF(260).celsius(), runs}, {"B", degF(260).celsius(), runs}};
  s.kit = plain_kit(m);
  s.plan = plain_plan({"A", "B", "B", "A"}, 2400);
  s.plan.start = Start::short_of_soaked;
  s.plan.soaked_share = 0.37;
  return s;
}

Scenario two_logger_drum() {
  auto s = started("S6", "two-loggers", "Upright drum with two loggers", "Drum by the boat shed");
  auto& m = s.model;
  m.pit.width_m = 0.57;
  m.pit.depth_m = 0.57;
  m.pit.height_m = 0.85;
  m.pit.grates = {{"lower", 0.45}, {"upper", 0.65}};
  m.set_c = degF(275).celsius();
  m.body = steel_drum();
  m.fire = charcoal_fan(1000);
  m.plate_excess_k = 69;
  m.spots = {spot_at("lower left", "lower", 0.15, 0.28, 0.45),
             spot_at("lower right", "lower", 0.42, 0.28, 0.45),
             spot_at("lower back", "lower", 0.28, 0.42, 0.45),
             spot_at("upper left", "upper", 0.15, 0.28, 0.65),
             spot_at("upper right", "upper", 0.42, 0.28, 0.65)};
  m.disturbance = {.gust_m_s = 0.8,
                   .drift_level_k = f_deg(1.5),
                   .drift_lay_k = f_deg(0.6),
                   .resetting_level_k = f_deg(1),
                   .resetting_lay_k = f_deg(0.6)};
  add_settings(m, {"A", "B"}, "lower vent", {"one open", "two open"});
  aim_swing(m, "A", 420, f_deg(10));
  s.targets = {{"A", degF(275).celsius(), in_kelvins({5, 2, 3, -4, -6})},
               {"B", degF(287).celsius(), in_kelvins({3, 4, 2, -4, -5})}};
  s.kit = plain_kit(m);
  auto& first = s.kit.loggers[0];
  first.name = "box";
  Logger second;
  second.name = "stick";
  second.scale = Scale::celsius;
  second.interval_s = 60;
  second.rounding = 0.5;
  second.clock_ahead_s = 440;
  second.clock_drift_s_per_h = 4;
  second.timezone = "Europe/Lisbon";
  // The last two spots are the second logger's; "twin" sits beside the first one's "lower back".
  auto& channels = first.thermometers;
  second.thermometers = {channels[3], channels[4], channels[2]};
  second.thermometers[2].channel = "twin";
  channels.erase(channels.begin() + 3, channels.begin() + 5);
  s.kit.loggers.push_back(second);
  s.plan = plain_plan({"A", "B", "B", "A"}, 2100);
  s.plan.lids = {{3900, 40, true}};
  return s;
}

Scenario gas_tray_bad_probes() {
  auto s = started("S7", "gas-tray", "Gas tray with bad probes and a swap",
                   "Gas tray of the football ground");
  auto& m = s.model;
  m.pit.width_m = 0.8;
  m.pit.depth_m = 0.45;
  m.pit.height_m = 0.3;
  m.pit.grates = {{"grate", 0.15}};
  m.set_c = degF(260).celsius();
  m.body = gas_tray();
  m.fire = gas_relay(1700);
  m.plate_excess_k = 78;
  m.spots = {spot_at("P1", "grate", 0.12, 0.15, 0.15), spot_at("P2", "grate", 0.26, 0.3, 0.15),
             spot_at("P3", "grate", 0.4, 0.15, 0.15), spot_at("P4", "grate", 0.54, 0.3, 0.15),
             spot_at("P5", "grate", 0.68, 0.15, 0.15)};
  m.disturbance = {.gust_m_s = 0.7,
                   .drift_level_k = f_deg(1),
                   .drift_lay_k = f_deg(0.6),
                   .resetting_level_k = f_deg(0.8),
                   .resetting_lay_k = f_deg(0.6)};
  add_settings(m, {"A", "B"}, "burners", {"1 and 4", "2 and 3"});
  aim_swing(m, "A", 360, f_deg(16));
  s.targets = {{"A", degF(262).celsius(), in_kelvins({6, -2, -8, -6, 10})},
               {"B", degF(262).celsius(), in_kelvins({-4, 4, 6, -1, -5})}};
  s.kit = plain_kit(m);
  auto& probes = s.kit.loggers[0].thermometers;
  s.plan = plain_plan({"A", "B", "B", "A"}, 2400);
  probes[0].faults = {{.from_s = 3000, .to_s = 3480, .frozen = true, .word = ""}};
  probes[1].bias_k = f_deg(5);
  probes[2].touching = 0.95;
  probes[2].touching_lag_s = 90;
  probes[2].rail = 0.42;
  probes[4].faults = {
      {5400, 5760, false, ""}, {5760, 6120, false, "-999"}, {6120, 6420, false, "LLL"}};
  probes[1].moves = {{4800, 3}};
  probes[3].moves = {{4800, 1}};
  return s;
}

}  // namespace pitwright::rehearse
