#include "rehearse/bodies.h"
#include "rehearse/scenarios.h"

namespace pitwright::rehearse {
namespace {

/// The long barrel of S1 and S10: firebox on the right, stack on the left.
void build_barrel(Scenario& s) {
  auto& m = s.model;
  m.pit.width_m = 1.2;
  m.pit.depth_m = 0.5;
  m.pit.height_m = 0.5;
  m.pit.grates = {{"grate", 0.25}};
  m.set_c = degF(258).celsius();
  m.body = long_steel_barrel();
  m.spots = {spot_at("F1", "grate", 1.0, 0.13, 0.25), spot_at("F2", "grate", 1.0, 0.37, 0.25),
             spot_at("M1", "grate", 0.6, 0.13, 0.25), spot_at("M2", "grate", 0.6, 0.37, 0.25),
             spot_at("S1", "grate", 0.2, 0.13, 0.25), spot_at("S2", "grate", 0.2, 0.37, 0.25)};
  m.plate_excess_k = 90;
  m.sensor.place.lag_s = 40;
  m.sensor.lag_s = 40;
  m.sensor.beside = {0, 0, 0.5, 0.5};
  m.sensor.grate = "grate";
  m.sensor.x_m = 0.6;
  m.sensor.y_m = 0.25;
  m.sensor.z_m = 0.25;
  m.weather = {.outside_c = degF(68).celsius(), .wind_m_s = 2.2};
}

/// Wood by hand: splits sized by eye, so the level wanders and never comes back quite.
void light_with_wood(Scenario& s, double mean_w) {
  auto& m = s.model;
  m.fire = wood_splits(mean_w, 1200);
  m.fire.bed_lag_s = 330;
  m.disturbance = {.gust_m_s = 1.2,
                   .gust_lag_s = 120,
                   .drift_level_k = f_deg(2),
                   .drift_lay_k = f_deg(1),
                   .drift_lag_s = 5400,
                   .fuel_per_h = -0.025,
                   .resetting_level_k = f_deg(2),
                   .resetting_lay_k = f_deg(1.2)};
}

}  // namespace

Scenario long_barrel() {
  auto s = started("S1", "long-barrel", "Long barrel, rear baffle in, mid and out",
                   "Long barrel at Ferry Bend");
  build_barrel(s);
  light_with_wood(s, 2500);
  auto& m = s.model;
  const std::vector<double> gusty{1.0, 1.0, 0.5, 0.5, 0.8, 0.8};
  for (std::size_t i = 0; i < m.spots.size(); ++i) m.spots[i].place.wind_k_s_m = 0.4 * gusty[i];
  add_settings(m, {"A", "B", "C"}, "baffle", {"in", "mid", "out"});
  s.targets = {{"A", degF(263).celsius(), in_kelvins({22, 17, 1, -2, -18, -20})},
               {"B", degF(258).celsius(), in_kelvins({8, 5, 0, -2, -5, -6})},
               {"C", degF(255).celsius(), in_kelvins({-5, -6, 0, -1, 7, 5})}};
  s.kit = plain_kit(m);
  s.kit.loggers[0].rounding = 1;
  s.plan = plain_plan({"A", "B", "C", "C", "B", "A"}, 2400);
  return s;
}

Scenario hopper_tray() {
  auto s = started("S2", "hopper-tray", "Hopper-fed box, drip tray moved an inch",
                   "Tin hopper behind the bakery");
  auto& m = s.model;
  m.pit.width_m = 0.75;
  m.pit.depth_m = 0.45;
  m.pit.height_m = 0.45;
  m.pit.grates = {{"main", 0.2}, {"upper", 0.34}};
  m.set_c = degF(250).celsius();
  m.body = thin_steel_box();
  m.fire = pellet_relay(1400);
  m.plate_excess_k = 96;
  m.spots = {spot_at("L1", "main", 0.15, 0.12, 0.2),  spot_at("L2", "main", 0.15, 0.33, 0.2),
             spot_at("R1", "main", 0.6, 0.12, 0.2),   spot_at("R2", "main", 0.6, 0.33, 0.2),
             spot_at("UL", "upper", 0.2, 0.22, 0.34), spot_at("UR", "upper", 0.55, 0.22, 0.34)};
  m.sensor.lag_s = 20;
  m.sensor.place.lag_s = 25;
  m.sensor.shade = 0.03;
  m.sensor.beside = {0.5, 0.5};
  m.sensor.grate = "main";  // on the left wall
  m.sensor.x_m = 0.02;
  m.sensor.y_m = 0.22;
  m.sensor.z_m = 0.2;
  m.disturbance = {.gust_m_s = 0.6,
                   .drift_level_k = f_deg(1),
                   .drift_lay_k = f_deg(0.6),
                   .resetting_level_k = f_deg(0.8),
                   .resetting_lay_k = f_deg(0.6)};
  add_settings(m, {"A", "B"}, "tray", {"home", "one inch left"});
  m.settings[0].lean_k = in_kelvins({9, 7, -6, -8, 4, -6});
  m.settings[1].lean_k = in_kelvins({0, -1, 2, 1, 0, -2});
  aim_swing(m, "A", 270, f_deg(18));
  s.targets = {{"A", std::nullopt, in_kelvins({9, 7, -6, -8, 4, -6})},
               {"B", std::nullopt, in_kelvins({0, -1, 2, 1, 0, -2})}};
  s.kit = plain_kit(m);
  s.plan = plain_plan({"A", "B", "B", "A"}, 2100);
  return s;
}

Scenario tall_cabinet() {
  auto s = started("S3", "tall-cabinet", "Tall cabinet, stack damper half and full",
                   "Tall cabinet of the river club");
  auto& m = s.model;
  m.pit.width_m = 0.6;
  m.pit.depth_m = 0.5;
  m.pit.height_m = 1.1;
  m.pit.grates = {{"top", 0.9}, {"middle", 0.65}, {"bottom", 0.4}};
  m.set_c = degF(240).celsius();
  m.body = steel_cabinet();
  m.fire = charcoal_fan(1200);
  m.plate_excess_k = 76;
  m.spots = {spot_at("T1", "top", 0.15, 0.25, 0.9),     spot_at("T2", "top", 0.45, 0.25, 0.9),
             spot_at("M1", "middle", 0.15, 0.25, 0.65), spot_at("M2", "middle", 0.45, 0.25, 0.65),
             spot_at("B1", "bottom", 0.15, 0.25, 0.4),  spot_at("B2", "bottom", 0.45, 0.25, 0.4)};
  m.disturbance = {.gust_m_s = 0.7,
                   .drift_level_k = f_deg(1.5),
                   .drift_lay_k = f_deg(0.5),
                   .resetting_level_k = f_deg(1.5),
                   .resetting_lay_k = f_deg(0.6)};
  add_settings(m, {"half", "full"}, "stack damper", {"half", "full"});
  m.settings[0].vent = 0.7;
  aim_swing(m, "full", 480, f_deg(14));
  const auto runs = in_kelvins({6, 4, 1, 0, -5, -6});
  s.targets = {{"half", degF(240).celsius(), runs}, {"full", degF(251).celsius(), runs}};
  s.kit = plain_kit(m);
  s.plan = plain_plan({"half", "full", "full", "half"}, 2700);
  return s;
}

Scenario fouled_hopper() {
  auto s = hopper_tray();
  s.id = "S8";
  s.name = "fouled-sensor";
  s.story = "Hopper-fed box before and after its sensor was wiped";
  auto& m = s.model;
  m.pit.name = "Tin hopper behind the bakery, never cleaned";
  m.pit.adjustments.clear();
  m.settings.clear();
  add_settings(m, {"fouled", "clean"}, "sensor", {"fouled", "wiped"});
  auto& fouled = m.settings[0];
  fouled.sensor_lag = 5;
  fouled.sensor_shade = 0.45;
  const auto runs = in_kelvins({9, 7, -6, -8, 4, -6});
  for (auto& setting : m.settings) setting.lean_k = runs;
  s.targets = {{"fouled", degF(274).celsius(), runs}, {"clean", degF(255).celsius(), runs}};
  aim_swing(m, "clean", 270, f_deg(14));
  s.kit = plain_kit(m);
  s.plan = plain_plan({"fouled", "clean"}, 3600);
  return s;
}

Scenario twin_shelf_lids() {
  auto s = started("S9", "twin-shelf", "Two shelves, the door opened twice",
                   "Twin shelf at the allotments");
  auto& m = s.model;
  m.pit.width_m = 0.8;
  m.pit.depth_m = 0.5;
  m.pit.height_m = 0.55;
  m.pit.grates = {{"lower", 0.2}, {"upper", 0.4}};
  m.set_c = degF(250).celsius();
  m.body = thin_steel_box();
  m.fire = pellet_relay(1400);
  m.plate_excess_k = 96;
  for (const auto& [grate, z_m] : {std::pair{"lower", 0.2}, std::pair{"upper", 0.4}}) {
    for (int i = 0; i < 4; ++i) {
      const double x_m = i % 2 == 0 ? 0.2 : 0.6, y_m = i < 2 ? 0.13 : 0.37;
      const std::string name = std::string(1, grate[0] == 'l' ? 'L' : 'U') + std::to_string(i + 1);
      m.spots.push_back(spot_at(name, grate, x_m, y_m, z_m));
    }
  }
  m.disturbance = {.gust_m_s = 0.6,
                   .drift_level_k = f_deg(1),
                   .drift_lay_k = f_deg(0.6),
                   .resetting_level_k = f_deg(0.7),
                   .resetting_lay_k = f_deg(0.6)};
  add_settings(m, {"A", "B"}, "shelf plate", {"in", "out"});
  aim_swing(m, "A", 300, f_deg(12));
  s.targets = {{"A", degF(250).celsius(), in_kelvins({6, -4, 4, -6, 5, -3, 3, -5})},
               {"B", degF(254).celsius(), in_kelvins({1, 2, -1, -2, 3, 1, -2, -2})}};
  s.kit = plain_kit(m);
  s.plan = plain_plan({"A", "B", "B", "A", "A", "B"}, 2400);
  s.plan.lids = {{2 * 2400 + 22 * 60.0, 75, false}, {4 * 2400 + 8 * 60.0, 180, false}};
  s.plan.loads = {{4 * 2400 + 8 * 60.0 + 60, 9000, 5, 3.5, {0.05, 0, 0.05, 0, 0.04, 0, 0.04, 0}}};
  return s;
}

Scenario barrel_front() {
  auto s = started("S10", "barrel-front", "Long barrel while a weather front passes",
                   "Long barrel at Ferry Bend, front day");
  build_barrel(s);
  light_with_wood(s, 2500);
  auto& m = s.model;
  m.disturbance.fuel_per_h = 0;
  m.fire.look_gain_per_k = 0.045;
  m.body.wind_loss_s_m = 0.04;
  m.body.wind_draught = 0.03;
  const std::vector<double> exposed{-1, -1, 0, 0, 1, 1};
  for (std::size_t i = 0; i < m.spots.size(); ++i)
    m.spots[i].place.wind_k_s_m = f_deg(2) / 5.8 * exposed[i];
  add_settings(m, {"A", "B", "C"}, "baffle", {"low", "mid", "high"});
  const auto runs = in_kelvins({8, 5, 0, -2, -5, -6});
  for (const auto* name : {"A", "B", "C"}) s.targets.push_back({name, degF(258).celsius(), runs});
  s.kit = plain_kit(m);
  s.kit.loggers[0].rounding = 1;
  Logger mast;
  mast.name = "mast";
  mast.interval_s = 60;
  mast.rounding = 0.1;
  mast.thermometers = {{.channel = "outside", .role = Role::outside},
                       {.channel = "wind", .role = Role::wind}};
  s.kit.loggers.push_back(mast);
  s.plan = plain_plan({"A", "B", "C", "C", "B", "A"}, 2100);
  s.plan.front = Front{105 * 60, 900, degF(51).celsius(), 8.0};
  return s;
}

}  // namespace pitwright::rehearse
