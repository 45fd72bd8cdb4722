#pragma once

#include <algorithm>

#include <gtest/gtest.h>

#include "food/cook_piece.h"

namespace pitwright::food {

/// A dry surface: nothing evaporates.
inline Surface dry_surface() {
  return {.wetness = 0, .dries = false};
}

/// Air of one temperature on all sides; eps 0 unless told.
inline Stage steady(double air_c, double h, double emissivity = 0, double humidity = 0.015) {
  Stage stage;
  stage.air =
      all_around({.air_c = air_c, .humidity = humidity, .h_w_m2k = h, .emissivity = emissivity});
  return stage;
}

/// Only the sides named feel anything; the rest are insulated.
inline Stage only(Stage stage, std::initializer_list<Side> open) {
  for (int s = 0; s < sides; ++s) {
    if (std::ranges::find(open, static_cast<Side>(s)) != open.end()) continue;
    auto& air = stage.air[static_cast<std::size_t>(s)];
    air.h_w_m2k = 0;
    air.emissivity = 0;
  }
  return stage;
}

/// The run, or a failed test that says why not.
inline Run cooked(const Mesh& mesh, const Material& material, const Surface& surface,
                  const Schedule& schedule, const RunOptions& options) {
  auto run = cook_body(mesh, material, surface, schedule, options);
  EXPECT_TRUE(run) << (run ? "" : run.error().what);
  return run ? *std::move(run) : Run{};
}

/// Core temperature at a time, which must be a sample's.
inline double core_at(const Run& run, double t_s) {
  for (std::size_t i = 0; i < run.time_s.size(); ++i) {
    if (std::abs(run.time_s[i] - t_s) < 1e-3) return run.core_c[i];
  }
  ADD_FAILURE() << "no sample at " << t_s;
  return 0;
}
inline double surface_at(const Run& run, double t_s) {
  for (std::size_t i = 0; i < run.time_s.size(); ++i) {
    if (std::abs(run.time_s[i] - t_s) < 1e-3) return run.surface_c[i];
  }
  ADD_FAILURE() << "no sample at " << t_s;
  return 0;
}

}  // namespace pitwright::food
