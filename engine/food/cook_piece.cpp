#include "food/cook_piece.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "food/legendre.h"

namespace pitwright::food {

namespace {

/// A run in the making.
class Cooking {
 public:
  Cooking(const Mesh& mesh, const Material& material, const Surface& surface,
          const Schedule& schedule, const RunOptions& options)
      : schedule_(schedule),
        options_(options),
        heating_(mesh, material, surface),
        step_(heating_.size()),
        y_(heating_.start(options.start_c)),
        t_c_(mesh.volume_m3.size(), options.start_c) {}

  Run run() {
    const double heat_before = heating_.heat_held(y_), water_before = heating_.water_held(y_);
    run_.mass_kg = heating_.mass_kg();
    begin_stage();
    sample();
    while (now_s_ < options_.duration_s - 1e-6) {
      advance(next_step());
      if (stage_is_over()) begin_next_stage();
      if (now_s_ >= next_sample_s_ - 1e-6 || now_s_ >= options_.duration_s - 1e-6) sample();
    }
    close_books(heat_before, water_before);
    return std::move(run_);
  }

 private:
  const Stage& stage() const { return schedule_.stages[stage_]; }
  bool is_last_stage() const { return stage_ + 1 == schedule_.stages.size(); }
  double core() const { return heating_.probe_c(t_c_); }

  std::span<double> scratch() {
    rate_.resize(y_.size());
    return rate_;
  }

  void look_around(double t_s) {
    for (int s = 0; s < sides; ++s) {
      around_[static_cast<std::size_t>(s)] = outside(stage(), s, t_s, schedule_.pressure_pa);
    }
  }

  /// Up to the next end that is known: the run's, a sample's, the stage's.
  double next_step() const {
    double dt = std::min(options_.step_s, options_.duration_s - now_s_);
    dt = std::min(dt, std::max(next_sample_s_ - now_s_, 1e-3));
    if (!is_last_stage() && stage().ends_after_s && *stage().ends_after_s > now_s_) {
      dt = std::min(dt, *stage().ends_after_s - now_s_);
    }
    return dt;
  }

  /// One step; where the probe passes the stage's end in it, the step is made again up to there.
  void advance(double dt) {
    const bool watches = !is_last_stage() && stage().ends_at_core_c.has_value();
    const double before = core();
    if (watches) kept_ = y_;
    step(dt);
    if (watches && crossed(before, core())) {
      const double share = (*stage().ends_at_core_c - before) / (core() - before);
      dt = std::max(share * dt, 1e-3);
      y_ = kept_;
      step(dt);
      reached_core_ = true;
    }
    now_s_ += dt;
  }

  void step(double dt) {
    look_around(now_s_ + dt / 2);
    const int stages = legendre_count(1.05 * heating_.fastest(), dt);
    step_.advance(
        [&](std::span<const double> y, std::span<double> dy) { heating_.rate(around_, y, dy); }, y_,
        dt, stages);
    heating_.temperatures(y_, t_c_);
  }

  bool crossed(double before, double after) const {
    const double end = *stage().ends_at_core_c;
    return (before < end) != (after < end);
  }

  bool stage_is_over() const {
    if (is_last_stage()) return false;
    return reached_core_ || (stage().ends_after_s && now_s_ >= *stage().ends_after_s - 1e-6);
  }

  void begin_stage() {
    run_.stage_from_s.push_back(now_s_);
    run_.core_at_stage_c.push_back(core());
  }

  void begin_next_stage() {
    sample();  // as it was when the stage ended
    ++stage_;
    reached_core_ = false;
    begin_stage();
  }

  void sample() {
    next_sample_s_ = (std::floor(now_s_ / options_.sample_s + 1e-9) + 1) * options_.sample_s;
    look_around(now_s_);
    heating_.rate(around_, y_, scratch());
    const auto& volume = heating_.mesh().volume_m3;
    const double whole = std::accumulate(volume.begin(), volume.end(), 0.0);
    double surface = 0, area = 0;
    for (int f = 0; f < heating_.faces(); ++f) {
      const auto& face = heating_.mesh().faces[static_cast<std::size_t>(f)];
      const auto& out = around_[static_cast<std::size_t>(face.side)];
      if (out.h <= 0 && out.emissivity <= 0) continue;  // insulated: not a surface
      const double A = face.area_m2;
      surface += A * heating_.crossings()[static_cast<std::size_t>(f)].surface_c;
      area += A;
    }
    run_.time_s.push_back(now_s_);
    run_.core_c.push_back(core());
    run_.coldest_c.push_back(*std::ranges::min_element(t_c_));
    run_.mean_c.push_back(std::inner_product(t_c_.begin(), t_c_.end(), volume.begin(), 0.0) /
                          whole);
    run_.surface_c.push_back(area > 0 ? surface / area : run_.mean_c.back());
    run_.lost_kg.push_back(heating_.ledger(y_, Heating::evaporated) +
                           heating_.ledger(y_, Heating::dripped));
  }

  void close_books(double heat_before, double water_before) {
    const auto book = [&](Heating::Ledger which) { return heating_.ledger(y_, which); };
    run_.evaporated_kg = book(Heating::evaporated);
    run_.dripped_kg = book(Heating::dripped);
    const double heat = heating_.heat_held(y_) - heat_before - book(Heating::heat_in) +
                        book(Heating::vapor_heat) + book(Heating::water_heat);
    const double water =
        heating_.water_held(y_) - water_before + run_.evaporated_kg + run_.dripped_kg;
    const double turned_over =
        std::abs(book(Heating::heat_in)) + std::abs(heating_.heat_held(y_) - heat_before);
    run_.heat_error = turned_over > 0 ? heat / turned_over : 0;
    run_.water_error = water_before > 0 ? water / water_before : 0;
    run_.final_state = y_;
    run_.final_t_c = t_c_;
  }

  const Schedule& schedule_;
  const RunOptions& options_;
  Heating heating_;
  LegendreStep step_;
  std::vector<double> y_, t_c_, kept_, rate_;
  std::array<Outside, sides> around_{};
  std::size_t stage_ = 0;
  bool reached_core_ = false;
  double now_s_ = 0, next_sample_s_ = 0;
  Run run_;
};

}  // namespace

double Run::time_to(double wanted_c) const {
  for (std::size_t i = 0; i < core_c.size(); ++i) {
    if (core_c[i] < wanted_c) continue;
    if (i == 0) return time_s[0];
    const double share = (wanted_c - core_c[i - 1]) / (core_c[i] - core_c[i - 1]);
    return time_s[i - 1] + share * (time_s[i] - time_s[i - 1]);
  }
  return -1;
}

Result<Run> cook_body(const Mesh& mesh, const Material& material, const Surface& surface,
                      const Schedule& schedule, const RunOptions& options) {
  if (const auto ok = check(schedule); !ok) return std::unexpected(ok.error());
  if (const auto ok = check(surface); !ok) return std::unexpected(ok.error());
  if (!(options.start_c >= -40 && options.start_c <= 150)) {
    return fail(ErrorKind::bad_input, "a start at {} °C: it must lie between -40 and 150 °C",
                options.start_c);
  }
  if (!(options.duration_s > 0 && options.duration_s <= 30 * 86400.0)) {
    return fail(ErrorKind::bad_input, "a cook of {} s: it must last up to 30 days",
                options.duration_s);
  }
  if (!(options.step_s >= 0.01 && options.step_s <= 3600) || !(options.sample_s >= 0.01)) {
    return fail(ErrorKind::bad_input, "steps and samples must lie between 0.01 s and an hour");
  }
  return Cooking(mesh, material, surface, schedule, options).run();
}

}  // namespace pitwright::food
