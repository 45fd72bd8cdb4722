#pragma once

// The ensemble's inner loops; included by ensemble_kernel.cpp alone, once for each set of
// instructions. Every array holds one vector of W members for each cell or face.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "food/air.h"
#include "food/ensemble_block.h"
#include "food/ensemble_lanes.h"
#include "food/legendre.h"

namespace pitwright::food {

template <int W>
class Block {
  using L = Lanes<W>;
  using V = typename L::V;
  /// A vector that containers may hold; aligned by name, for the typedef alone does not.
  struct alignas(W * 4) Item {
    V v;
  };
  using Array = std::vector<Item>;

 public:
  Block(const Plan& plan, Task& task);
  [[gnu::always_inline]] inline void run();

 private:
  struct SideAir {
    V air_c, radiant_k4, h, glow, vapor, open_resistance;  ///< glow: eps sigma
  };

  const Member& member(int lane) const {
    return task_.members[static_cast<std::size_t>(std::min(lane, used_ - 1))];
  }
  const Material& material(int lane) const {
    return task_.materials[static_cast<std::size_t>(std::min(lane, used_ - 1))];
  }
  [[gnu::noinline]] void take_members();
  [[gnu::noinline]] void look_around(double t_s);
  [[gnu::noinline]] void write_sample(int sample);
  [[gnu::noinline]] void end_stages(double t_s, const V& before, const V& now);
  [[gnu::noinline]] int count_stages() const;

  [[gnu::always_inline]] inline V probe() const;
  [[gnu::always_inline]] inline V k_integral(V t) const { return t * (k0_ + t * (k1_ + t * k2_)); }
  [[gnu::always_inline]] inline V heat_capacity(V t, V w) const {
    return d0_ + t * (d1_ + t * d2_) + w * (s0_ + t * (s1_ + t * s2_));
  }
  [[gnu::always_inline]] inline void prepare();
  [[gnu::always_inline]] inline void surface_step();
  [[gnu::always_inline]] inline void interior();
  [[gnu::always_inline]] inline void first_stage(float dt_mu);
  [[gnu::always_inline]] inline void next_stage(const LegendreStage& s, float dt);
  [[gnu::always_inline]] inline void move_water(float dt);

  const Plan& plan_;
  Task& task_;
  int used_ = 0;
  Array t_, start_, before_, rate_, rate_start_, k_sum_, inverse_c_, water_, gone_;
  Array surface_c_, open_, vapor_flux_, first_flux_, deficit_, last_move_, supply_, supply_heat_;
  std::array<SideAir, sides> air_{};
  std::array<V, sides> depth_factor_{}, area_factor_{}, share_factor_{}, ratio_factor_{};
  V k0_{}, k1_{}, k2_{}, d0_{}, d1_{}, d2_{}, s0_{}, s1_{}, s2_{};  ///< k1, k2 as integrated
  V density_{}, raw_water_{}, wet_transfer_{}, front_{}, z2_{}, activity_{}, lost_{}, lets_go_{};
  std::array<int, W> stage_{};
};

template <int W>
void Block<W>::surface_step() {
  constexpr float x_middle = (vapor_high_c + vapor_low_c) / 2,
                  x_half = (vapor_high_c - vapor_low_c) / 2;
  const auto& p = plan_.vapor;
  for (std::size_t f = 0; f < plan_.faces.size(); ++f) {
    const auto& face = plan_.faces[f];
    const auto side = static_cast<std::size_t>(face.side), c = static_cast<std::size_t>(face.cell);
    const auto& air = air_[side];
    const V inward = depth_factor_[side] * face.inverse_depth, inner = k_sum_[c].v;
    V ts = surface_c_[f].v;
    const V open = open_[f].v;
    const V k = ts + 273.15f, kk = k * k;
    const V x = (ts - x_middle) * (1 / x_half);
    V ln = L::all(p[7]), dln = L::all(0);
    for (int i = 6; i >= 0; --i) {
      dln = dln * x + ln;
      ln = ln * x + p[static_cast<std::size_t>(i)];
    }
    const V saturated = activity_ * L::exponential(ln);
    const V flux = (saturated - air.vapor) * open;
    const V hfg = 2.501e6f - 2361.0f * ts;
    const V excess = air.h * (air.air_c - ts) + air.glow * (air.radiant_k4 - kk * kk) - flux * hfg -
                     (k_integral(ts) - inner) * inward;
    const V flux_slope = open * saturated * dln * (1 / x_half);
    const V k_here = k0_ + ts * (2.0f * k1_ + ts * (3.0f * k2_));
    const V slope =
        air.h + 4.0f * air.glow * kk * k + flux_slope * hfg - 2361.0f * flux + k_here * inward;
    const V step = L::larger(L::smaller(excess / slope, L::all(15)), L::all(-15));
    ts += step;
    surface_c_[f].v = ts;
    vapor_flux_[f].v = flux + flux_slope * step;
    rate_[c].v += inverse_c_[c].v * (k_integral(ts) - inner) * inward *
                  (area_factor_[side] * face.per_volume);
  }
}

template <int W>
void Block<W>::interior() {
  for (std::size_t i = 0; i < plan_.cells.size(); ++i) {
    const auto& c = plan_.cells[i];
    const auto at = [&](int j) { return k_sum_[static_cast<std::size_t>(j)].v; };
    const V here = k_sum_[i].v;
    V sum = (at(c.left) - here) * c.to_left + (at(c.right) - here) * c.to_right;
    sum += (at(c.front) + at(c.back) - 2.0f * here) * c.to_y;
    sum += (at(c.below) + at(c.above) - 2.0f * here) * (z2_ * c.to_z);
    rate_[i].v = sum * inverse_c_[i].v;
  }
}

template <int W>
void Block<W>::first_stage(float dt_mu) {
  for (std::size_t i = 0; i < t_.size(); ++i) {
    const V t = start_[i].v + dt_mu * rate_[i].v;
    rate_start_[i] = rate_[i];
    before_[i] = start_[i];
    t_[i].v = t;
    k_sum_[i].v = k_integral(t);
  }
}

template <int W>
void Block<W>::next_stage(const LegendreStage& s, float dt) {
  const auto mu = static_cast<float>(s.mu), nu = static_cast<float>(s.nu);
  const float now = dt * static_cast<float>(s.mu_rate),
              then = dt * static_cast<float>(s.start_rate);
  for (std::size_t i = 0; i < t_.size(); ++i) {
    const V last = t_[i].v;
    // The weights add up to 1: differences from the start, so that nothing is lost of a small
    // change.
    const V origin = start_[i].v;
    const V t = origin + (mu * (last - origin) + nu * (before_[i].v - origin) +
                          (now * rate_[i].v + then * rate_start_[i].v));
    before_[i].v = last;
    t_[i].v = t;
    k_sum_[i].v = k_integral(t);
  }
}

/// Once a step: heat capacities, and how open each face is to vapor; both as they will be in the
/// middle of the step if things go on as in the last one.
template <int W>
void Block<W>::prepare() {
  for (std::size_t i = 0; i < t_.size(); ++i) {
    const V t = t_[i].v, middle = 1.5f * t - 0.5f * start_[i].v;
    start_[i].v = t;
    inverse_c_[i].v = 1.0f / (density_ * heat_capacity(middle, water_[i].v - 0.5f * gone_[i].v));
  }
  for (std::size_t f = 0; f < plan_.faces.size(); ++f) {
    const auto& air = air_[static_cast<std::size_t>(plan_.faces[f].side)];
    const V middle = deficit_[f].v + 0.5f * last_move_[f].v;
    open_[f].v = 1.0f / (air.open_resistance + front_ * L::larger(middle, V{}));
  }
}

/// Released water goes to the faces, evaporates there or drips; the front moves.
template <int W>
void Block<W>::move_water(float dt) {
  const auto lag = static_cast<float>(plan_.surface->release_lag_s);
  const float share = 1 - std::exp(-dt / lag);
  for (std::size_t f = 0; f < supply_.size(); ++f) supply_[f].v = supply_heat_[f].v = V{};
  for (std::size_t i = 0; i < t_.size(); ++i) {
    const auto& c = plan_.cells[i];
    const V t = 0.5f * (t_[i].v + start_[i].v);
    const V held =
        raw_water_ * (1.0f - lets_go_ / (1.0f + 30.0f * L::exponential(-0.25f * (t - 52.0f))));
    const V gone = L::larger(water_[i].v - held, V{}) * share;
    water_[i].v -= gone;
    gone_[i].v = gone;
    const auto f = static_cast<std::size_t>(c.face);
    const V flow =
        density_ * gone * c.ratio * ratio_factor_[static_cast<std::size_t>(plan_.faces[f].side)];
    supply_[f].v += flow;
    supply_heat_[f].v += flow * t;
  }
  const auto film = static_cast<float>(plan_.surface->film_kg_m2);
  for (std::size_t f = 0; f < plan_.faces.size(); ++f) {
    const auto& face = plan_.faces[f];
    const auto side = static_cast<std::size_t>(face.side), c = static_cast<std::size_t>(face.cell);
    const V supply = supply_[f].v, old = deficit_[f].v,
            flux = 0.5f * (first_flux_[f].v + vapor_flux_[f].v);
    const V brings = s0_ * (supply_heat_[f].v - supply * t_[c].v);
    t_[c].v += brings * inverse_c_[c].v * (area_factor_[side] * face.per_volume);
    k_sum_[c].v = k_integral(t_[c].v);
    // Half implicit: the thicker the crust, the slower it grows; never more than there is.
    const V pace = L::larger(flux, -flux) * open_[f].v * front_;
    const V damping = 1.0f + (old > 0.0f ? L::larger(dt * pace - 0.5f, V{}) : V{});
    V now = old + (dt * flux - supply) / damping;
    now = L::larger(now, L::all(-film));
    deficit_[f].v = now;
    last_move_[f].v = now - old;
    lost_ += (supply + now - old) * (share_factor_[side] * face.area_share);
  }
}

template <int W>
typename Block<W>::V Block<W>::probe() const {
  V sum{};
  for (const auto& part : plan_.probe) {
    sum += static_cast<float>(part.weight) * t_[static_cast<std::size_t>(part.cell)].v;
  }
  return sum;
}

template <int W>
void Block<W>::run() {
  const auto table = legendre_stages(count_stages());
  const auto dt = static_cast<float>(plan_.step_s);
  look_around(plan_.step_s / 2);
  write_sample(0);
  prepare();
  interior();
  for (int i = 0; i < 12; ++i) surface_step();  // from the start's temperature to its balance
  const int steps = plan_.samples * plan_.steps_a_sample;
  for (int n = 0; n < steps; ++n) {
    const double t_s = n * plan_.step_s;
    if (plan_.varies) look_around(t_s + plan_.step_s / 2);
    prepare();
    const V core = probe();
    for (std::size_t j = 0; j < table.size(); ++j) {
      interior();
      surface_step();
      if (j == 0) {
        first_flux_ = vapor_flux_;
        first_stage(dt * static_cast<float>(table[0].mu_rate));
      } else {
        next_stage(table[j], dt);
      }
    }
    move_water(dt);
    end_stages(t_s + plan_.step_s, core, probe());
    if ((n + 1) % plan_.steps_a_sample == 0) write_sample((n + 1) / plan_.steps_a_sample);
  }
  task_.evaluations = static_cast<double>(steps) * static_cast<double>(table.size());
}

}  // namespace pitwright::food
