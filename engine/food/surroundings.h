#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "food/mesh.h"
#include "food/steam.h"

namespace pitwright::food {

/// A number that may change with time: straight lines between points, flat outside them.
struct Track {
  std::vector<double> times_s;
  std::vector<double> values;

  Track() = default;
  Track(double constant) : values{constant} {}  // NOLINT: a constant is a track
  Track(std::vector<double> t, std::vector<double> v)
      : times_s(std::move(t)), values(std::move(v)) {}
  double at(double t_s) const;
};

/// What one side of a piece feels.
struct Air {
  Track air_c = 107.2;
  std::optional<Track> radiant_c{};  ///< what it sees; absent: as warm as the air
  Track humidity = 0.010;            ///< water in the air [kg/kg of dry air]
  Track h_w_m2k = 10;                ///< convection alone [W/(m2 K)]
  double emissivity = 0.9;           ///< of meat (from memory; 0.74-0.95 is reported)
};

enum class Wrapping { none, paper, foil };

/// A wrap as the surface feels it.
///   vapor:  1/km = 1/kc + resistance
struct Wrap {
  double vapor_resistance_s_m = 0;
  std::optional<double> emissivity{};  ///< of the outside; absent: the meat's
};
/// None; paper: 3000 s/m; foil: next to nothing gets out, emissivity 0.07. All from memory and to
/// be fitted: no published permeance was found. With the crust as fitted, a paper of less than some
/// 1000 s/m changes nothing.
Wrap wrap_of(Wrapping wrapping);

/// The drying surface: evaporation falls back from a front that recedes as the crust dries.
///   m = (aw rho_sat(Ts) - rho_air) / (1/(wetness kc) + wrap + s/D),   s = deficit / dried_water
/// Water that the heating meat lets go moves the front out again; what a wet surface cannot
/// evaporate drips.
struct Surface {
  double wetness = 1;                    ///< share of free evaporation from the front
  double water_activity = 0.98;          ///< raw meat .98-.99 (from memory)
  bool dries = true;                     ///< false: the wetness stays what it is
  double crust_diffusivity_m2_s = 5e-7;  ///< of vapor in the crust; fitted, see the method's page
  double film_kg_m2 = 0.1;               ///< liquid that clings before it drips (our choice)
  double drip_lag_s = 60;                ///< (our choice)
  double release_lag_s = 3600;           ///< from "no longer held" to "out at the surface"; fitted
};

/// One stretch of a cook: pit, wrapped, rest, hold, cooling. It ends by the first of its ends that
/// comes; the last stage of a schedule lasts as long as the run.
struct Stage {
  std::string name{};
  std::array<Air, sides> air{};
  Wrap wrap{};
  std::optional<double> ends_after_s{};    ///< since the run's start
  std::optional<double> ends_at_core_c{};  ///< once the probe has come to it, from either side
};

struct Schedule {
  std::vector<Stage> stages;
  double pressure_pa = standard_pressure_pa;
};

/// The same air on every side.
std::array<Air, sides> all_around(const Air& air);

/// Fails: bad_input where there is no stage, a track's times do not rise or a number cannot be:
/// temperatures outside -60 .. 350 degC (seen: 600), h outside 0 .. 500, negative humidity,
/// emissivity outside 0 .. 1.
Result<void> check(const Schedule& schedule);
Result<void> check(const Surface& surface);

/// One side's surroundings at one moment, as the surface wants them.
struct Outside {
  double air_c = 0, radiant_k4 = 0, h = 0, emissivity = 0;
  double vapor_kg_m3 = 0;    ///< in the air
  double free_transfer = 0;  ///< kc [m/s]
  double wrap_resistance = 0;
};
Outside outside(const Stage& stage, int side, double t_s, double pressure_pa);

}  // namespace pitwright::food
