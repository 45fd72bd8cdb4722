#include "rehearse/bodies.h"

namespace pitwright::rehearse {

Body thin_steel_box() {
  return {};
}

Body long_steel_barrel() {
  return {.plate_j_k = 9000,
          .air_j_k = 2500,
          .wall_j_k = 30000,
          .deep_j_k = 12000,
          .plate_air_w_k = 16,
          .plate_wall_m2 = 0.03,
          .air_wall_w_k = 28,
          .wall_deep_w_k = 3,
          .wall_out_w_k = 12,
          .deep_out_w_k = 1.2,
          .wind_loss_s_m = 0.1,
          .vent_m2 = 0.005,
          .stack_m = 1.1,
          .wind_draught = 0.1,
          .lid_w_k = 80};
}

Body steel_cabinet() {
  return {.plate_j_k = 6000,
          .air_j_k = 2500,
          .wall_j_k = 22000,
          .deep_j_k = 15000,
          .plate_air_w_k = 9,
          .plate_wall_m2 = 0.015,
          .air_wall_w_k = 22,
          .wall_deep_w_k = 9,
          .wall_out_w_k = 0.5,
          .deep_out_w_k = 7,
          .wind_loss_s_m = 0.06,
          .vent_m2 = 0.0025,
          .stack_m = 1.4,
          .wind_draught = 0.1,
          .lid_w_k = 60};
}

Body ceramic_egg() {
  return {.plate_j_k = 5000,
          .air_j_k = 1200,
          .wall_j_k = 28000,
          .deep_j_k = 45000,
          .plate_air_w_k = 6,
          .plate_wall_m2 = 0.012,
          .air_wall_w_k = 12,
          .wall_deep_w_k = 12,
          .wall_out_w_k = 0,
          .deep_out_w_k = 4.5,
          .wind_loss_s_m = 0.04,
          .vent_m2 = 0.0009,
          .stack_m = 0.7,
          .wind_draught = 0.05,
          .lid_w_k = 40};
}

Body brick_room() {
  return {.plate_j_k = 20000,
          .air_j_k = 5000,
          .wall_j_k = 60000,
          .deep_j_k = 300000,
          .plate_air_w_k = 20,
          .plate_wall_m2 = 0.03,
          .air_wall_w_k = 60,
          .wall_deep_w_k = 60,
          .wall_out_w_k = 0,
          .deep_out_w_k = 18,
          .wind_loss_s_m = 0.03,
          .vent_m2 = 0.006,
          .stack_m = 2,
          .wind_draught = 0.1,
          .lid_w_k = 100};
}

Body steel_drum() {
  return {.plate_j_k = 4000,
          .air_j_k = 1500,
          .wall_j_k = 11000,
          .deep_j_k = 4000,
          .plate_air_w_k = 8,
          .plate_wall_m2 = 0.02,
          .air_wall_w_k = 14,
          .wall_deep_w_k = 1,
          .wall_out_w_k = 7,
          .deep_out_w_k = 0.3,
          .wind_loss_s_m = 0.1,
          .vent_m2 = 0.0016,
          .stack_m = 0.9,
          .wind_draught = 0.1,
          .lid_w_k = 47};
}

Body gas_tray() {
  return {.plate_j_k = 5000,
          .air_j_k = 1800,
          .wall_j_k = 10000,
          .deep_j_k = 5000,
          .plate_air_w_k = 12,
          .plate_wall_m2 = 0.02,
          .air_wall_w_k = 16,
          .wall_deep_w_k = 1,
          .wall_out_w_k = 8,
          .deep_out_w_k = 0.3,
          .wind_loss_s_m = 0.1,
          .vent_m2 = 0.006,
          .stack_m = 0.35,
          .wind_draught = 0.1,
          .lid_w_k = 60};
}

Fire pellet_relay(double mean_w) {
  return {.kind = FireKind::relay,
          .high_w = 1.6 * mean_w,
          .low_w = 0.4 * mean_w,
          .dead_time_s = 16,
          .bed_lag_s = 40,
          .flame_lag_s = 20,
          .half_band_k = 0.3};
}

Fire charcoal_fan(double mean_w) {
  return {.kind = FireKind::relay,
          .high_w = 1.5 * mean_w,
          .low_w = 0.5 * mean_w,
          .dead_time_s = 10,
          .bed_lag_s = 90,
          .flame_lag_s = 20,
          .half_band_k = 0.3,
          .air_driven = 0.4};
}

Fire gas_relay(double mean_w) {
  return {.kind = FireKind::relay,
          .high_w = 1.6 * mean_w,
          .low_w = 0.3 * mean_w,
          .dead_time_s = 4,
          .bed_lag_s = 10,
          .flame_lag_s = 6,
          .half_band_k = 2};
}

Fire wood_splits(double mean_w, double period_s) {
  return {.kind = FireKind::splits,
          .high_w = mean_w,
          .low_w = 0,  // between splits nothing is fed
          .dead_time_s = 30,
          .bed_lag_s = 500,
          .flame_lag_s = 120,
          .period_s = period_s,
          .period_scatter = 0.05,
          .size_scatter = 0.05,
          .look_gain_per_k = 0.01};
}

}  // namespace pitwright::rehearse
