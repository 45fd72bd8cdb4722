#pragma once

#include <vector>

#include "base/result.h"
#include "food/heating.h"

namespace pitwright::food {

/// How a run is made.
struct RunOptions {
  double start_c = 4;
  double duration_s = 12 * 3600;
  double step_s = 30;    ///< second order in it; the stages within a step see to stability
  double sample_s = 60;  ///< samples are taken at the first step that reaches a multiple of it
};

/// A run as it went. All vectors have one entry a sample.
struct Run {
  std::vector<double> time_s, core_c, coldest_c, mean_c, surface_c;
  std::vector<double> lost_kg;       ///< evaporated and dripped since the start
  std::vector<double> stage_from_s;  ///< when each stage began
  std::vector<double> core_at_stage_c;
  double mass_kg = 0;
  double evaporated_kg = 0, dripped_kg = 0;
  /// What is missing in the books: (heat held - heat in + heat out) as a share of the heat that
  /// came in, and the same of the water.
  double heat_error = 0, water_error = 0;
  std::vector<double> final_state, final_t_c;

  double yield() const { return 1 - (evaporated_kg + dripped_kg) / mass_kg; }
  /// First time the probe reaches a temperature, from below [s]; negative: never.
  double time_to(double core_c) const;
};

/// Warms or cools a body through its schedule, in double precision.
/// Fails: bad_input from check(schedule), check(surface), or where the options cannot be met.
Result<Run> cook_body(const Mesh& mesh, const Material& material, const Surface& surface,
                      const Schedule& schedule, const RunOptions& options);

}  // namespace pitwright::food
