#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "base/result.h"
#include "food/kinetics.h"
#include "food/material.h"
#include "food/mesh.h"
#include "food/surroundings.h"

namespace pitwright::food {

/// One guess at what is not known of a piece and its place. Factors of 1 and shifts of 0 are the
/// piece as asked.
struct Member {
  double thickness = 1;  ///< factor on the thickness
  double start_c = 4;
  double transfer = 1;                       ///< factor on h
  double humidity = 1;                       ///< factor on the air's water
  double wetness = 1;                        ///< replaces Surface::wetness
  double crust = 1;                          ///< factor on the crust's diffusivity
  double air_shift_k = 0;                    ///< added to the air, and to what is seen, all around
  std::array<double, sides> side_shift_k{};  ///< and on each side
  std::optional<Composition> composition{};  ///< absent: that of the material
};

/// Which instructions the kernel uses.
enum class Instructions { baseline, avx2, avx512 };
/// The best that this processor has.
Instructions best_instructions();

struct EnsembleOptions {
  double duration_s = 12 * 3600;
  double sample_s = 300;  ///< a trace has a point so often
  double step_s = 150;    ///< at most; a sample is a whole number of steps
  std::vector<Doneness> wanted{};
  std::optional<Instructions> instructions{};  ///< absent: the best
};

struct EnsembleRun {
  std::vector<double> time_s;
  std::vector<float> core_c;        ///< samples x members, a row a moment
  std::vector<float> lost;          ///< share of the raw mass lost so far, likewise
  std::vector<float> finish_s;      ///< wanted x members; NaN: not within the run
  std::vector<float> stage_from_s;  ///< stages x members; NaN: never began
  int members = 0;
  double cell_updates = 0;  ///< cells x members x evaluations of the rate
  double face_updates = 0;
  double flops = 0;  ///< counted from the kernel's text, multiply-add as two

  float core_at(int sample, int member) const {
    return core_c[static_cast<std::size_t>(sample) * static_cast<std::size_t>(members) +
                  static_cast<std::size_t>(member)];
  }
};

/// Many members of one piece through one schedule: single precision, members side by side in the
/// lanes of vectors, blocks of lanes over the processors (numeric/parallel). The physics of
/// Heating, with these differences: water and crust move once a step; the surface follows by one
/// step of Newton's method a stage; a stage of the schedule ends with a whole step; what is frozen
/// cannot be told. Accuracy: 0.1 K of Heating on the same cells (tested).
/// A result does not depend on the other members, but for the last digits.
/// Fails: bad_input as cook_body does, where there is no member, or where a member's numbers cannot
/// be: thickness 0.2 .. 5, start -0.5 .. 150 degC, transfer 0 .. 10, humidity 0 .. 10, wetness
/// 0 .. 1, crust 0.05 .. 100, shifts within 200 K.
Result<EnsembleRun> cook_ensemble(const Brick& brick, const Material& material,
                                  const Surface& surface, const Schedule& schedule,
                                  std::span<const Member> members, const EnsembleOptions& options);

}  // namespace pitwright::food
