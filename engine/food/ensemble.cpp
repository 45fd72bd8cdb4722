#include "food/ensemble.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "food/ensemble_block.h"
#include "food/steam.h"
#include "numeric/parallel.h"

namespace pitwright::food {

namespace {

constexpr float never = std::numeric_limits<float>::quiet_NaN();

/// Floating-point operations of one cell and one face at one evaluation, counted in the text of
/// ensemble_kernel.h, a fused multiply-add as two, larger and smaller as none. Cell: interior 17,
/// stages 10, k integral 5. Face: vapor's polynomials 30, exponential 21, the rest 58.
constexpr double flops_of_cell = 32, flops_of_face = 109;

Result<void> check_member(const Member& m, int index) {
  const auto within = [](double x, double low, double high) { return x >= low && x <= high; };
  const bool ok =
      within(m.thickness, .2, 5) && within(m.start_c, -.5, 150) && within(m.transfer, 0, 10) &&
      within(m.humidity, 0, 10) && within(m.wetness, 0, 1) && within(m.crust, .05, 100) &&
      within(m.air_shift_k, -200, 200) &&
      std::ranges::all_of(m.side_shift_k, [&](double x) { return within(x, -200, 200); });
  if (!ok) {
    return fail(ErrorKind::bad_input,
                "member {} of an ensemble has a number that cannot be: thickness {}, start {} °C, "
                "transfer {}, humidity {}, wetness {}, crust {}",
                index, m.thickness, m.start_c, m.transfer, m.humidity, m.wetness, m.crust);
  }
  return {};
}

/// ln of the saturated vapor's density as powers of x in -1 .. 1, through Chebyshev's points.
std::array<float, 8> vapor_polynomial() {
  constexpr int n = 8;
  const double middle = (vapor_high_c + vapor_low_c) / 2, half = (vapor_high_c - vapor_low_c) / 2;
  std::array<double, n> value{}, cheb{};
  for (int i = 0; i < n; ++i) {
    const double x = std::cos(std::numbers::pi * (i + .5) / n);
    value[static_cast<std::size_t>(i)] = std::log(saturated_vapor_density(middle + half * x));
  }
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      cheb[static_cast<std::size_t>(j)] += (j == 0 ? 1.0 : 2.0) / n *
                                           value[static_cast<std::size_t>(i)] *
                                           std::cos(std::numbers::pi * j * (i + .5) / n);
    }
  }
  // Powers of T_j from T_j = 2 x T_{j-1} - T_{j-2}.
  std::array<std::array<double, n>, n> T{};
  T[0][0] = 1;
  T[1][1] = 1;
  for (std::size_t j = 2; j < n; ++j) {
    for (std::size_t i = 0; i < n; ++i) T[j][i] = (i > 0 ? 2 * T[j - 1][i - 1] : 0) - T[j - 2][i];
  }
  std::array<float, 8> p{};
  for (std::size_t i = 0; i < n; ++i) {
    double sum = 0;
    for (std::size_t j = 0; j < n; ++j) sum += cheb[j] * T[j][i];
    p[i] = static_cast<float>(sum);
  }
  return p;
}

bool varies(const Schedule& schedule) {
  for (const auto& stage : schedule.stages) {
    for (const auto& air : stage.air) {
      if (air.air_c.values.size() > 1 || air.humidity.values.size() > 1 ||
          air.h_w_m2k.values.size() > 1 || (air.radiant_c && air.radiant_c->values.size() > 1)) {
        return true;
      }
    }
  }
  return false;
}

/// Neighbors and coefficients from the mesh of the double-precision model: one geometry for both.
void take_mesh(const Brick& brick, const Mesh& mesh, Plan& plan) {
  const int nx = brick.cells[0], ny = brick.cells[1];
  std::vector<double> pull(mesh.volume_m3.size()), pull_z(mesh.volume_m3.size());
  for (int i = 0; i < mesh.cells(); ++i) {
    plan.cells.push_back({i, i, i, i, i, i, 0, 0, 0, 0, 0, 0});
  }
  for (const auto& link : mesh.links) {
    const auto a = static_cast<std::size_t>(link.a), b = static_cast<std::size_t>(link.b);
    auto &ca = plan.cells[a], &cb = plan.cells[b];
    const double to_a = link.area_m / mesh.volume_m3[a], to_b = link.area_m / mesh.volume_m3[b];
    const bool along_x = link.b - link.a == 1 && nx > 1;
    const bool along_y = !along_x && link.b - link.a == nx && ny > 1;
    if (along_x) {
      ca.right = link.b, ca.to_right = static_cast<float>(to_a);
      cb.left = link.a, cb.to_left = static_cast<float>(to_b);
    } else if (along_y) {
      ca.back = link.b, cb.front = link.a;
      ca.to_y = cb.to_y = static_cast<float>(to_a);
    } else {
      ca.above = link.b, cb.below = link.a;
      ca.to_z = cb.to_z = static_cast<float>(to_a);
      pull_z[a] += 2 * to_a, pull_z[b] += 2 * to_b;
    }
    pull[a] += 2 * to_a, pull[b] += 2 * to_b;
  }
  double whole = 0;
  for (const double v : mesh.volume_m3) whole += v;
  for (const auto& face : mesh.faces) {
    const auto c = static_cast<std::size_t>(face.cell);
    const double per_volume = face.area_m2 / mesh.volume_m3[c];
    plan.faces.push_back({face.cell, face.side, static_cast<float>(1 / face.depth_m),
                          static_cast<float>(per_volume),
                          static_cast<float>(face.area_m2 / whole)});
    pull[c] += per_volume / face.depth_m;
    if (face.side >= static_cast<int>(Side::bottom)) pull_z[c] += per_volume / face.depth_m;
  }
  for (std::size_t i = 0; i < plan.cells.size(); ++i) {
    plan.cells[i].face = mesh.nearest_face[i];
    const auto& face = mesh.faces[static_cast<std::size_t>(mesh.nearest_face[i])];
    plan.cells[i].ratio = static_cast<float>(mesh.volume_m3[i] / face.area_m2);
    plan.fastest_m2 = std::max(plan.fastest_m2, pull[i]);
    plan.fastest_z_m2 = std::max(plan.fastest_z_m2, pull_z[i]);
  }
  plan.probe = mesh.probe;
}

Result<void> check_all(const Material& material, const Surface& surface, const Schedule& schedule,
                       std::span<const Member> members, const EnsembleOptions& o) {
  if (const auto ok = check(schedule); !ok) return ok;
  if (const auto ok = check(surface); !ok) return ok;
  if (members.empty()) return fail(ErrorKind::bad_input, "an ensemble needs at least one member");
  if (!(o.duration_s > 0 && o.duration_s <= 30 * 86400.0) || !(o.step_s >= 1 && o.step_s <= 600) ||
      !(o.sample_s >= 1 && o.sample_s <= o.duration_s)) {
    return fail(ErrorKind::bad_input,
                "an ensemble runs up to 30 days in steps of 1 to 600 s, samples within the run");
  }
  for (std::size_t i = 0; i < members.size(); ++i) {
    if (const auto ok = check_member(members[i], static_cast<int>(i)); !ok) return ok;
  }
  constexpr double most_numbers = 2e8;  // of the traces: 1.6 GB
  if (o.duration_s / o.sample_s * static_cast<double>(members.size()) > most_numbers) {
    return fail(ErrorKind::bad_input,
                "an ensemble of {} members sampled every {:g} s for {:g} h would fill the memory; "
                "sample less often",
                members.size(), o.sample_s, o.duration_s / 3600);
  }
  if (o.instructions && *o.instructions > best_instructions()) {
    return fail(ErrorKind::unavailable, "this processor lacks the instructions asked for");
  }
  if (!(material.density > 0)) return fail(ErrorKind::bad_input, "a material needs a density");
  return {};
}

void find_finishes(const EnsembleOptions& options, EnsembleRun& run) {
  std::vector<double> trace(run.time_s.size());
  for (std::size_t w = 0; w < options.wanted.size(); ++w) {
    for (int m = 0; m < run.members; ++m) {
      for (std::size_t s = 0; s < trace.size(); ++s) {
        trace[s] = static_cast<double>(run.core_at(static_cast<int>(s), m));
      }
      const auto at = done_at(run.time_s, trace, options.wanted[w]);
      run.finish_s.push_back(at ? static_cast<float>(*at) : never);
    }
  }
}

}  // namespace

Result<EnsembleRun> cook_ensemble(const Brick& brick, const Material& material,
                                  const Surface& surface, const Schedule& schedule,
                                  std::span<const Member> members, const EnsembleOptions& options) {
  if (const auto ok = check_all(material, surface, schedule, members, options); !ok) {
    return std::unexpected(ok.error());
  }
  Plan plan;
  take_mesh(brick, brick_mesh(brick), plan);
  plan.vapor = vapor_polynomial();
  plan.brick = &brick, plan.surface = &surface, plan.schedule = &schedule;
  plan.varies = varies(schedule);
  plan.steps_a_sample = static_cast<int>(std::ceil(options.sample_s / options.step_s - 1e-9));
  plan.step_s = options.sample_s / plan.steps_a_sample;
  plan.samples = static_cast<int>(std::ceil(options.duration_s / options.sample_s - 1e-9));

  EnsembleRun run;
  run.members = static_cast<int>(members.size());
  const auto moments = static_cast<std::size_t>(plan.samples + 1);
  for (int s = 0; s <= plan.samples; ++s) run.time_s.push_back(s * options.sample_s);
  run.core_c.resize(moments * members.size());
  run.lost.resize(moments * members.size());
  run.stage_from_s.assign(schedule.stages.size() * members.size(), never);

  const auto instructions = options.instructions.value_or(best_instructions());
  const int width = lanes(instructions);
  std::vector<Task> tasks;
  for (int first = 0; first < run.members; first += width) {
    Task task;
    task.first = first;
    task.members = members.subspan(static_cast<std::size_t>(first),
                                   static_cast<std::size_t>(std::min(width, run.members - first)));
    for (const auto& m : task.members) {
      task.materials.push_back(m.composition ? make_material(*m.composition) : material);
    }
    task.out = &run;
    tasks.push_back(std::move(task));
  }
  numeric::parallel_for(static_cast<int>(tasks.size()), [&](int i) {
    run_block(plan, tasks[static_cast<std::size_t>(i)], instructions);
  });
  for (const auto& task : tasks) {
    const double lane_evaluations = task.evaluations * static_cast<double>(task.members.size());
    run.cell_updates += lane_evaluations * static_cast<double>(plan.cells.size());
    run.face_updates += lane_evaluations * static_cast<double>(plan.faces.size());
  }
  run.flops = flops_of_cell * run.cell_updates + flops_of_face * run.face_updates;
  find_finishes(options, run);
  return run;
}

}  // namespace pitwright::food
