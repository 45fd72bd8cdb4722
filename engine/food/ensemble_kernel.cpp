#include "food/ensemble_kernel.h"

namespace pitwright::food {

template <int W>
Block<W>::Block(const Plan& plan, Task& task)
    : plan_(plan), task_(task), used_(static_cast<int>(task.members.size())) {
  const auto n = plan.cells.size(), f = plan.faces.size();
  for (auto* array :
       {&t_, &start_, &before_, &rate_, &rate_start_, &k_sum_, &inverse_c_, &water_, &gone_}) {
    array->resize(n, Item{});
  }
  for (auto* array : {&surface_c_, &open_, &vapor_flux_, &first_flux_, &deficit_, &last_move_,
                      &supply_, &supply_heat_}) {
    array->resize(f, Item{});
  }
  take_members();
}

template <int W>
void Block<W>::take_members() {
  const auto slope =
      static_cast<float>((plan_.brick->thick_m - plan_.brick->thin_m) / 2 / plan_.brick->length_m);
  const auto bottom = static_cast<std::size_t>(Side::bottom),
             top = static_cast<std::size_t>(Side::top);
  for (auto* factor : {&depth_factor_, &area_factor_, &share_factor_, &ratio_factor_}) {
    for (auto& v : *factor) v = L::all(1);
  }
  V start{};
  for (int l = 0; l < W; ++l) {
    const auto& m = member(l);
    const auto& a = material(l);
    const auto set = [l](V& v, double x) { v[l] = static_cast<float>(x); };
    set(k0_, a.conductivity[0]), set(k1_, a.conductivity[1] / 2), set(k2_, a.conductivity[2] / 3);
    set(d0_, a.dry_heat[0]), set(d1_, a.dry_heat[1]), set(d2_, a.dry_heat[2]);
    set(s0_, a.water_heat[0]), set(s1_, a.water_heat[1]), set(s2_, a.water_heat[2]);
    set(density_, a.density), set(raw_water_, a.water),
        set(activity_, plan_.surface->water_activity);
    set(lets_go_, a.lets_water_go ? 0.345 / raw_lean_water : 0);
    set(wet_transfer_, m.wetness);
    const double crust_water = a.density * a.held_water(80);
    const bool dries = plan_.surface->dries && a.water > 0;
    set(front_,
        dries ? 1 / (std::max(crust_water, 20.0) * plan_.surface->crust_diffusivity_m2_s * m.crust)
              : 0);
    set(z2_, 1 / (m.thickness * m.thickness));
    set(start, m.start_c);
    const double thick = m.thickness;
    const double slant =
        std::sqrt(1 + slope * slope * thick * thick) / std::sqrt(1 + slope * slope);
    for (const auto side : {bottom, top}) {
      set(depth_factor_[side], 1 / thick), set(area_factor_[side], slant / thick);
      set(share_factor_[side], slant / thick), set(ratio_factor_[side], thick / slant);
    }
  }
  for (std::size_t i = 0; i < t_.size(); ++i) {
    t_[i].v = start_[i].v = start;
    water_[i].v = raw_water_;
    k_sum_[i].v = k_integral(start);
  }
  for (auto& s : surface_c_) s.v = start;
}

/// Surroundings of every lane at a moment.
template <int W>
void Block<W>::look_around(double t_s) {
  const auto& schedule = *plan_.schedule;
  for (int l = 0; l < W; ++l) {
    const auto& m = member(l);
    const auto& stage =
        schedule.stages[static_cast<std::size_t>(stage_[static_cast<std::size_t>(l)])];
    for (std::size_t s = 0; s < sides; ++s) {
      const auto& air = stage.air[s];
      auto& a = air_[s];
      const double shift = m.air_shift_k + m.side_shift_k[s], air_c = air.air_c.at(t_s) + shift;
      const double seen = (air.radiant_c ? air.radiant_c->at(t_s) + shift : air_c) + 273.15;
      const double h = air.h_w_m2k.at(t_s) * m.transfer;
      a.air_c[l] = static_cast<float>(air_c);
      a.radiant_k4[l] = static_cast<float>(seen * seen * seen * seen);
      a.h[l] = static_cast<float>(h);
      a.glow[l] =
          static_cast<float>(stage.wrap.emissivity.value_or(air.emissivity) * stefan_boltzmann);
      a.vapor[l] = static_cast<float>(
          vapor_density(air.humidity.at(t_s) * m.humidity, air_c, schedule.pressure_pa));
      const double transfer = m.wetness * mass_transfer(h, schedule.pressure_pa);
      a.open_resistance[l] = static_cast<float>(
          std::min(1 / std::max(transfer, 1e-12) + stage.wrap.vapor_resistance_s_m, 1e12));
    }
  }
}

template <int W>
void Block<W>::write_sample(int sample) {
  const V core = probe();
  auto& out = *task_.out;
  for (int l = 0; l < used_; ++l) {
    const auto at = static_cast<std::size_t>(sample) * static_cast<std::size_t>(out.members) +
                    static_cast<std::size_t>(task_.first + l);
    out.core_c[at] = core[l];
    out.lost[at] = lost_[l] / density_[l];
    if (sample == 0) out.stage_from_s[static_cast<std::size_t>(task_.first + l)] = 0;
  }
}

template <int W>
void Block<W>::end_stages(double t_s, const V& before, const V& now) {
  const auto& stages = plan_.schedule->stages;
  bool any = false;
  for (int l = 0; l < W; ++l) {
    auto& here = stage_[static_cast<std::size_t>(l)];
    if (here + 1 >= static_cast<int>(stages.size())) continue;
    const auto& stage = stages[static_cast<std::size_t>(here)];
    const bool timed = stage.ends_after_s && t_s >= *stage.ends_after_s - plan_.step_s / 2;
    const bool cored = stage.ends_at_core_c &&
                       ((before[l] < *stage.ends_at_core_c) != (now[l] < *stage.ends_at_core_c));
    if (!timed && !cored) continue;
    ++here;
    any = true;
    if (l < used_) {
      task_.out->stage_from_s[static_cast<std::size_t>(here) *
                                  static_cast<std::size_t>(task_.out->members) +
                              static_cast<std::size_t>(task_.first + l)] = static_cast<float>(t_s);
    }
  }
  if (any) look_around(t_s + plan_.step_s / 2);
}

template <int W>
int Block<W>::count_stages() const {
  double fastest = 0;
  for (int l = 0; l < used_; ++l) {
    const auto& a = material(l);
    const double k = std::max(a.conductivity_at(0), a.conductivity_at(100));
    const double c = a.density * a.heat_capacity(20, 0.55 * a.water);
    const double thick = member(l).thickness;
    const double geometry =
        plan_.fastest_m2 - plan_.fastest_z_m2 + plan_.fastest_z_m2 / (thick * thick);
    fastest = std::max(fastest, geometry * k / c);
  }
  return legendre_count(1.05 * fastest, plan_.step_s);
}

namespace {

[[gnu::target("avx512f,avx512dq,avx512vl,avx512bw,avx2,fma"), gnu::flatten]] void run_avx512(
    Block<16>& block) {
  block.run();
}

[[gnu::target("avx2,fma"), gnu::flatten]] void run_avx2(Block<8>& block) {
  block.run();
}

[[gnu::flatten]] void run_baseline(Block<4>& block) {
  block.run();
}

}  // namespace

int lanes(Instructions instructions) {
  switch (instructions) {
    case Instructions::avx512:
      return 16;
    case Instructions::avx2:
      return 8;
    default:
      return 4;
  }
}

Instructions best_instructions() {
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("avx512vl") && __builtin_cpu_supports("avx512bw")) {
    return Instructions::avx512;
  }
  return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma") ? Instructions::avx2
                                                                         : Instructions::baseline;
}

void run_block(const Plan& plan, Task& task, Instructions instructions) {
  if (instructions == Instructions::avx512) {
    Block<16> block(plan, task);
    run_avx512(block);
  } else if (instructions == Instructions::avx2) {
    Block<8> block(plan, task);
    run_avx2(block);
  } else {
    Block<4> block(plan, task);
    run_baseline(block);
  }
}

}  // namespace pitwright::food
