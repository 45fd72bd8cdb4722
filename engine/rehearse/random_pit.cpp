#include "rehearse/random_pit.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/expects.h"
#include "rehearse/bodies.h"
#include "rehearse/scenarios.h"

namespace pitwright::rehearse {
namespace {

using numeric::Random;

// A miss above this means that the fire cannot reach the level asked for (its idling feed is too
// hot, or its full one too weak); about 1 pit in 300. Such a pit is drawn anew.
constexpr double unreachable_k = 0.1;
constexpr int most_redraws = 5;

// Effects "of exactly so much" are met to this [K].
constexpr double exact_k = 0.01;

double log_uniform(Random& random, double low, double high) {
  return low * std::pow(high / low, random.uniform());
}

bool chance(Random& random, double p) {
  return random.uniform() < p;
}

Body random_body(Random& random) {
  constexpr std::array makers{thin_steel_box, long_steel_barrel, steel_cabinet, ceramic_egg,
                              brick_room,     steel_drum,        gas_tray};
  Body body = makers[static_cast<std::size_t>(random.below(static_cast<int>(makers.size())))]();
  for (const auto field :
       {&Body::plate_j_k, &Body::air_j_k, &Body::wall_j_k, &Body::deep_j_k, &Body::plate_air_w_k,
        &Body::plate_wall_m2, &Body::air_wall_w_k, &Body::wall_deep_w_k, &Body::wall_out_w_k,
        &Body::deep_out_w_k, &Body::vent_m2, &Body::wind_loss_s_m})
    body.*field *= log_uniform(random, 0.75, 1.33);
  return body;
}

Place random_place(Random& random) {
  Place place;
  place.lag_s = log_uniform(random, 12, 80);
  place.metal_share = random.uniform(0.2, 0.65);
  place.metal_lag_s = log_uniform(random, 150, 600);
  place.wall_share = random.uniform(0, 0.15);
  place.glow = random.uniform(0, 0.03);
  place.wind_k_s_m = random.uniform(-0.5, 0.5);
  place.eddy_k = random.uniform(0.1, 0.6);
  return place;
}

void put_spots(Random& random, PitModel& model) {
  model.pit.width_m = random.uniform(0.45, 1.2);
  model.pit.depth_m = random.uniform(0.4, 0.6);
  model.pit.height_m = random.uniform(0.4, 0.7);
  model.pit.grates = {{"lower", 0.35 * *model.pit.height_m}, {"upper", 0.7 * *model.pit.height_m}};
  const int spots = 4 + random.below(5);
  const bool two_grates = chance(random, 0.5);
  for (int i = 0; i < spots; ++i) {
    const bool upper = two_grates && i % 2 == 1;
    Spot spot;
    spot.name = "spot " + std::to_string(i + 1);
    spot.grate = upper ? "upper" : "lower";
    spot.x_m = random.uniform(0.1, 0.9) * *model.pit.width_m;
    spot.y_m = random.uniform(0.15, 0.85) * *model.pit.depth_m;
    spot.z_m = *model.pit.grates[upper ? 1 : 0].height_m;
    spot.place = random_place(random);
    model.spots.push_back(std::move(spot));
  }
}

void light_relay(Random& random, PitModel& model) {
  const double need_w = needed_heat_w(model, model.settings[0]);
  const int sort = random.below(3);
  model.fire = sort == 0   ? pellet_relay(need_w)
               : sort == 1 ? charcoal_fan(need_w)
                           : gas_relay(need_w);
  model.fire.plate_share = random.uniform(0.4, 0.75);
  model.fire.half_band_k = random.uniform(0.2, 0.8);
  aim_swing(model, model.settings[0].name, log_uniform(random, 190, 1150),
            log_uniform(random, f_deg(6), f_deg(36)));
}

void light_fire(Random& random, PitModel& model) {
  const double draw = random.uniform();
  if (draw < 0.5) return light_relay(random, model);
  const double need_w = needed_heat_w(model, model.settings[0]);
  if (draw < 0.75) {
    model.fire = wood_splits(need_w, 1200);
    model.fire.period_scatter = random.uniform(0, 0.08);
    model.fire.size_scatter = random.uniform(0, 0.06);
    model.fire.look_gain_per_k = random.uniform(0.005, 0.03);
    aim_swing(model, model.settings[0].name, log_uniform(random, 480, 1200),
              log_uniform(random, f_deg(8), f_deg(50)), 8);
    return;
  }
  model.fire = pellet_relay(need_w);
  model.fire.low_w = 0.15 * need_w;
  model.fire.high_w = need_w * random.uniform(1.8, 2.6);
  model.fire.gain_per_k = log_uniform(random, 0.01, 0.06);
  model.fire.reset_s = log_uniform(random, 400, 1500);
  model.fire.cycle_s = 2 * tick_s * (3 + random.below(9));
  model.fire.kind = draw < 0.87   ? FireKind::feeder
                    : draw < 0.95 ? FireKind::damper
                                  : FireKind::steady;
  if (model.fire.kind == FireKind::damper) model.fire.air_driven = random.uniform(0.2, 0.8);
  if (model.fire.kind == FireKind::steady) model.fire.high_w = need_w;
}

Disturbance random_disturbance(Random& random) {
  Disturbance d;
  d.gust_m_s = random.uniform(0, 1.6);
  d.gust_lag_s = log_uniform(random, 40, 240);
  d.drift_level_k = f_deg(random.uniform(0, 3));
  d.drift_lay_k = f_deg(random.uniform(0, 1.5));
  d.drift_lag_s = log_uniform(random, 2400, 14400);
  d.fuel_per_h = random.uniform(-0.015, 0.015);
  d.resetting_level_k = f_deg(random.uniform(0, 2));
  d.resetting_lay_k = f_deg(random.uniform(0, 2));
  return d;
}

std::vector<double> random_runs(Random& random, std::size_t spots, double sd_k) {
  std::vector<double> runs(spots);
  double mean = 0;
  for (double& r : runs) {
    r = sd_k * random.normal();
    mean += r / static_cast<double>(spots);
  }
  for (double& r : runs) r -= mean;
  return runs;
}

/// Makes the change of one spot exactly `size_k` and spreads what that takes over the others.
void set_one(std::vector<double>& change, std::size_t spot, double size_k) {
  const double over = (change[spot] - size_k) / static_cast<double>(change.size() - 1);
  for (std::size_t i = 0; i < change.size(); ++i) change[i] = i == spot ? size_k : change[i] + over;
}

double draw_size_k(Random& random, const std::vector<double>& sizes_k) {
  if (sizes_k.empty()) return 5 * random.normal();
  const double size =
      sizes_k[static_cast<std::size_t>(random.below(static_cast<int>(sizes_k.size())))];
  return chance(random, 0.5) ? size : -size;
}

std::vector<std::string> distinct(const std::vector<std::string>& order) {
  std::vector<std::string> names;
  for (const auto& name : order) {
    if (std::ranges::find(names, name) == names.end()) names.push_back(name);
  }
  return names;
}

}  // namespace

PitModel random_pit(Random& random, const std::vector<std::string>& settings) {
  expects(!settings.empty());
  PitModel model;
  model.pit.name = "a pit nobody built";
  model.body = random_body(random);
  model.set_c = degF(random.uniform(225, 325)).celsius();
  model.weather.outside_c = degF(random.uniform(35, 90)).celsius();
  model.weather.outside_k_per_h = f_deg(random.uniform(-3, 3));
  model.weather.wind_m_s = random.uniform(0, 4);
  model.weather.sun_w = random.uniform(0, 60);
  model.weather.sun_per_h = random.uniform(-20, 20);
  put_spots(random, model);
  model.sensor.place = random_place(random);
  model.sensor.place.lag_s = log_uniform(random, 8, 40);
  model.sensor.place.glow = 0;
  model.sensor.place.eddy_k = 0.1;
  model.sensor.lag_s = log_uniform(random, 6, 40);
  model.sensor.glow = random.uniform(0, 0.02);
  model.sensor.shade = random.uniform(0, 0.1);
  add_settings(model, settings, "lever", settings);
  light_fire(random, model);
  Burning pit(model, nullptr);
  apply_calm(model, pit.inputs());
  pit.use(model.settings[0]);
  pit.start_soaked(0);
  model.plate_excess_k = std::max(5.0, pit.state()[plate] - pit.state()[air]);
  model.disturbance = random_disturbance(random);
  return model;
}

Kit random_kit(Random& random, const PitModel& model) {
  constexpr std::array intervals_s{1.0, 2.0, 5.0, 10.0, 15.0, 30.0};
  constexpr std::array roundings{0.1, 0.5, 1.0};
  Kit kit = plain_kit(model);
  auto& logger = kit.loggers[0];
  logger.interval_s = intervals_s[static_cast<std::size_t>(random.below(6))];
  logger.rounding = roundings[static_cast<std::size_t>(random.below(3))];
  const double lag_s = log_uniform(random, 3, 60);
  for (auto& thermometer : logger.thermometers) {
    thermometer.noise_k = f_deg(random.uniform(0.1, 0.5));
    if (thermometer.role != Role::air) continue;
    thermometer.lag_s = lag_s * log_uniform(random, 0.8, 1.25);
    thermometer.bias_k = f_deg(1.5 * random.normal());
  }
  return kit;
}

namespace {

RandomBurn draw_burn(Random& random, const RandomDesign& design) {
  const auto settings = distinct(design.order);
  RandomBurn burn;
  burn.model = random_pit(random, settings);
  burn.kit = random_kit(random, burn.model);
  burn.plan = plain_plan(design.order, design.dwell_s);

  const auto spots = burn.model.spots.size();
  const double level_c = burn.model.set_c + f_deg(random.uniform(-8, 8));
  const auto first = random_runs(random, spots, f_deg(random.uniform(2, 10)));
  const auto spot = static_cast<std::size_t>(random.below(static_cast<int>(spots)));
  burn.targets.push_back({settings[0], level_c, first});
  for (std::size_t s = 1; s < settings.size(); ++s) {
    auto change = random_runs(random, spots, f_deg(random.uniform(0, 8)));
    set_one(change, spot, draw_size_k(random, design.sizes_k));
    Target target{settings[s], level_c + draw_size_k(random, design.sizes_k), first};
    for (std::size_t i = 0; i < spots; ++i) target.run_k[i] += change[i];
    burn.targets.push_back(std::move(target));
  }
  burn.aimed = aim(burn.model, burn.targets, exact_k, 16);
  return burn;
}

}  // namespace

RandomBurn random_burn(Random& random, const RandomDesign& design) {
  RandomBurn burn = draw_burn(random, design);
  for (int again = 0; again < most_redraws && burn.aimed.worst_k > unreachable_k; ++again)
    burn = draw_burn(random, design);
  return burn;
}

}  // namespace pitwright::rehearse
