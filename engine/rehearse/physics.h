#pragma once

#include <span>
#include <vector>

#include "rehearse/model.h"

namespace pitwright::rehearse {

/// Where each part of the state lies. Temperatures [degC]; bed and flame are heat rates [W];
/// heat_in and heat_out add up the heat [J] of the fire and that lost outside and to a load.
/// After them come the air of each place, then the metal beside each; the sensor's place is last.
enum StateIndex {
  plate,
  air,
  wall,
  deep,
  bed,
  flame,
  sensor,
  load,
  heat_in,
  heat_out,
  first_place
};

/// What acts on the pit from without; held over a tick. Sizes: lean_k, eddy_k: places (spots + 1).
struct Inputs {
  double feed_w = 0;   ///< fuel reaching the bed, as heat
  double quality = 1;  ///< of the fuel
  double heat = 1;     ///< share of the fire's heat that stays in the pit
  double vent = 1;
  double stir = 1;
  double sensor_lag = 1;
  double sensor_shade = 0;
  double sensor_glow = 0;
  double outside_c = 15;
  double wind_m_s = 0;
  double gust_m_s = 0;  ///< wind less the wind at which the truth is defined
  double sun_w = 0;
  double lid = 0;       ///< 1 while open
  double load_j_k = 0;  ///< 0: none
  double load_w_k = 0;
  std::vector<double> load_share;  ///< spots; empty: none
  std::vector<double> lean_k;
  std::vector<double> eddy_k;
};

/// The heat that flows in the pit at one moment [W].
struct Flows {
  double into_plate, into_air;  ///< of the fire
  double plate_to_air, plate_to_wall;
  double air_to_wall, air_to_outside, air_to_load;
  double wall_to_deep, wall_to_outside, deep_to_outside;
};

/// The physics of one pit: fixed numbers in the shape the integrator wants. See
/// docs/methods/rehearse.md for the equations.
class Physics {
 public:
  explicit Physics(const PitModel& model);

  int places() const { return static_cast<int>(lag_s_.size()); }
  int size() const { return first_place + 2 * places(); }

  /// Air through the stack [kg/s].
  double draught_kg_s(const Inputs& in, double air_c) const;
  /// Draught at the set point on the day's weather, vent at 1 [kg/s].
  double rest_draught_kg_s() const { return rest_draught_kg_s_; }

  Flows flows(const Inputs& in, std::span<const double> y) const;
  void derivative(const Inputs& in, std::span<const double> y, std::span<double> dy) const;

  /// What the air of a place tends to [degC].
  double place_target_c(const Inputs& in, std::span<const double> y, int place) const;
  /// What the control sensor tends to [degC].
  double sensor_target_c(const Inputs& in, std::span<const double> y) const;
  /// What a small bare thermometer without lag shows at a spot [degC].
  double spot_c(const Inputs& in, std::span<const double> y, int spot) const;

  /// The fastest time constant of the whole pit, lid open [s].
  double fastest_s() const { return fastest_s_; }
  const PitModel& model() const { return *model_; }

 private:
  const PitModel* model_;
  std::vector<double> lag_s_, metal_share_, metal_lag_s_, wall_share_, wind_k_s_m_, lid_share_;
  std::vector<double> glow_;
  double rest_draught_kg_s_ = 0;
  double fastest_s_ = 0;
};

/// Classical fourth-order Runge-Kutta with its workspace.
/// Source: Hairer, Norsett & Wanner, Solving Ordinary Differential Equations I, table 1.2 (from
/// memory; the order is tested).
class Integrator {
 public:
  explicit Integrator(int size)
      : k1_(n(size)), k2_(n(size)), k3_(n(size)), k4_(n(size)), y_(n(size)) {}

  /// Advances y by `steps` equal steps that add up to `span_s`.
  void advance(const Physics& physics, const Inputs& in, std::span<double> y, double span_s,
               int steps);

 private:
  static std::size_t n(int size) { return static_cast<std::size_t>(size); }
  std::vector<double> k1_, k2_, k3_, k4_, y_;
};

/// The steady state of the pit with these inputs, heat included.
struct Balance {
  std::vector<double> state;
  double heat_w = 0;  ///< of the fire, before Inputs::heat
  bool converged = false;
};

/// Newton's method on the balance of plate, air, wall, deep part and fire.
///   held:  the fire gives what keeps the sensor at the set point (within its low and high feed)
///   open:  the fire gives Fire::high_w (splits: with the look at the dial)
Balance balance(const Physics& physics, const Inputs& in);

}  // namespace pitwright::rehearse
