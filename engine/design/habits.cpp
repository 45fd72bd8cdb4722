#include "design/habits.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "call/call.h"
#include "call/tables.h"
#include "numeric/students_t.h"

namespace pitwright::design {
namespace {

constexpr double f_deg = 1.0 / 1.8;
constexpr int law_nodes = 64;
constexpr int level_nodes = 24, spot_nodes = 8;
/// A log that was soaked later than this after its first sample is taken to have begun at lighting.
constexpr double cold_start_s = 1200.0;

/// What made-up pits of all sorts have: scales of half-t laws with 4 degrees of freedom [K] whose
/// middle is that of the scales that calls of A B B A left of 200 random pits. The priors of the
/// call are wider on purpose: they must not mislead on an odd pit; a plan is for a usual one.
/// Printed by `build/release/bench/design/design_check`; docs/methods/design.md.
constexpr call::ScalePriors usual_level{1.10, 0.50, 0.60};
constexpr call::ScalePriors usual_spot{0.66, 0.24, 0.59};
constexpr call::ScalePriors usual_tilt{0.86, 0.24,
                                       0.57};  // neighbors drift together, so more than a spot

call::Scales scaled(const call::Scales& s, double by) {
  return {s.drift * by, s.noise * by, s.resetting * by};
}

/// The i-th point of van der Corput's sequence in a base: the digits of i behind the point,
/// mirrored. Source: Halton, "On the efficiency of certain quasi-random sequences of points in
/// evaluating
///         multi-dimensional integrals", Numerische Mathematik 2 (1960).
double mirrored_digits(int i, int base) {
  double value = 0.0, place = 1.0;
  for (; i > 0; i /= base) {
    place /= base;
    value += place * (i % base);
  }
  return value;
}

/// The half-t law with 4 degrees of freedom at the share u of its values.
double half_t4_at(double u, double scale) {
  return scale * numeric::students_t_upper_quantile(0.5 * (1.0 - u), 4.0);
}

/// Points spread evenly over three half-t laws.
std::vector<call::Scales> spread_over(const call::ScalePriors& priors) {
  std::vector<call::Scales> all;
  for (int i = 1; i <= law_nodes; ++i)
    all.push_back({half_t4_at(mirrored_digits(i, 2), priors.drift_k),
                   half_t4_at(mirrored_digits(i, 3), priors.noise_k),
                   half_t4_at(mirrored_digits(i, 5), priors.resetting_k)});
  return all;
}

/// Swing and split-to-split time. Common practice, no source: pellets swing some 10 degF either way
/// about every 6 min, gas under a thermostat 20; charcoal stays within 7; a wood fire runs 25
/// either way from split to split, 45 min apart.
void set_fire(std::optional<Fuel> fuel, Habits& habits) {
  if (fuel == Fuel::pellet) habits.level_leaks = {call::of_a_held_level};
  if (fuel == Fuel::wood) habits.level_leaks = {call::of_an_open_level};
  if (!fuel || *fuel == Fuel::pellet) {
    habits.swing = {360.0, 20.0 * f_deg};
  } else if (*fuel == Fuel::gas) {
    habits.swing = {360.0, 40.0 * f_deg};
  } else if (*fuel == Fuel::charcoal) {
    habits.swing = {std::nullopt, 15.0 * f_deg};
  } else {
    habits.swing = {std::nullopt, 50.0 * f_deg};
    habits.fire_cycle_s = 2700.0;
  }
}

/// First setting against second; the only setting itself where there is no other.
Eigen::VectorXd contrast_of(const call::Measured& measured) {
  const int p = measured.effects()->layout().settings();
  Eigen::VectorXd contrast = Eigen::VectorXd::Unit(p, 0);
  if (p > 1) contrast(1) = -1.0;
  return contrast;
}

void add_typical(const call::Measured& measured, int count, double by,
                 std::vector<call::Scales>& into) {
  if (measured.posterior() == nullptr) return;
  for (const auto& s : measured.posterior()->typical_scales(contrast_of(measured), count))
    into.push_back(scaled(s, by));
}

double sum_of_squares(const std::vector<double>& shares) {
  double sum = 0.0;
  for (const double c : shares) sum += c * c;
  return sum;
}

void learn_scales(const call::Tables& tables, const call::Moments& moments, Habits& habits) {
  add_typical(tables.level, level_nodes, 1.0, habits.level);
  const double n = static_cast<double>(moments.level_spots.size());
  if (n < 2.0) return;
  for (const int i : moments.level_spots)
    add_typical(tables.runs[static_cast<std::size_t>(i)], spot_nodes,
                1.0 / std::sqrt(1.0 - 1.0 / n), habits.spot);
  for (std::size_t k = 0; k < tables.tilts.size(); ++k) {
    const auto& contrast = tables.tilt_contrasts[k];
    add_typical(tables.tilts[k], level_nodes, 1.0 / std::sqrt(sum_of_squares(contrast.shares)),
                habits.tilt[static_cast<std::size_t>(contrast.axis)]);
  }
}

void learn_places(const Burn& burn, Habits& habits) {
  const auto dial = std::ranges::find(burn.probes, Role::dial, &Probe::role);
  if (dial == burn.probes.end()) return;
  habits.sensor_x_m = dial->x_m;
  habits.sensor_y_m = dial->y_m;
  habits.sensor_z_m = dial->z_m;
}

}  // namespace

std::string_view name_of(Fuel fuel) {
  switch (fuel) {
    case Fuel::pellet:
      return "pellet";
    case Fuel::charcoal:
      return "charcoal";
    case Fuel::wood:
      return "wood";
    case Fuel::gas:
      return "gas";
  }
  std::unreachable();
}

Habits assumed_habits(std::optional<Fuel> fuel) {
  Habits habits;
  set_fire(fuel, habits);
  // A fire that swings widely wanders widely, as the call expects it to.
  const auto expected = call::level_priors(habits.swing);
  auto level = usual_level;
  level.drift_k *= expected.drift_k / call::ScalePriors{}.drift_k;
  level.noise_k *= expected.noise_k / call::ScalePriors{}.noise_k;
  habits.level = spread_over(level);
  habits.spot = spread_over(usual_spot);
  habits.tilt.fill(spread_over(usual_tilt));
  return habits;
}

std::vector<call::ScalePriors> planned_level_priors(const Habits& habits) {
  std::vector<call::ScalePriors> all;
  for (const auto& leaks : habits.level_leaks) {
    all.push_back(call::level_priors(habits.swing));
    all.back().nuisance_sd = {leaks.fast, leaks.slow};
  }
  return all;
}

Result<Habits> learned_habits(const Burn& burn) {
  const auto report = call::make_call(burn, {.as_known_at_s = {}, .needs_stints = false});
  if (!report) return std::unexpected(report.error());
  const auto panel = call::make_panel(burn);
  const auto windows = call::find_windows(burn, panel, panel.start_s + panel.n * panel.step_s);
  const auto moments = call::find_moments(panel, windows);
  const auto tables = call::make_tables(panel, windows, moments, false);
  if (tables.empty() || tables.level.posterior() == nullptr)
    return fail(ErrorKind::bad_input,
                "nothing of the burn's stints counts: there is nothing to learn "
                "of the pit from it");
  Habits habits = assumed_habits(std::nullopt);
  habits.learned = true;
  habits.learned_from = burn.title;
  habits.swing = windows.swing;
  habits.lag_s = windows.lag_s;
  habits.lag_low_s = windows.lag_low_s;
  habits.lag_high_s = windows.lag_high_s;
  habits.lag_borrowed = windows.lag_borrowed;
  if (windows.soaked_at_s && *windows.soaked_at_s - burn.first_s() > cold_start_s) {
    habits.soak_s = *windows.soaked_at_s - burn.first_s();
    habits.soak_learned = true;
  }
  const auto& leaks = tables.level.nuisance_sd();
  habits.level_leaks = {{.fast = leaks[0], .slow = leaks[1]}};
  habits.level.clear();
  if (moments.level_spots.size() > 1) {
    habits.spot.clear();
    habits.tilt = {};
  }
  learn_scales(tables, moments, habits);
  learn_places(burn, habits);
  return habits;
}

}  // namespace pitwright::design
