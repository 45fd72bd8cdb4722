#pragma once

#include <span>
#include <vector>

#include "food/ensemble.h"

namespace pitwright::food {

/// What all blocks of an ensemble share: geometry and order of work, in single precision.
struct Plan {
  struct Cell {
    int left, right, front, back, below, above;  ///< neighbors; itself where there is none
    float to_left, to_right, to_y, to_z;         ///< 1/m2: conductance over volume
    int face;                                    ///< where its released water comes out
    float ratio;                                 ///< its volume over that face's area [m]
  };
  struct Face {
    int cell, side;
    float inverse_depth;  ///< 1/m
    float per_volume;     ///< area over the cell's volume [1/m]
    float area_share;     ///< area over the piece's volume [1/m]
  };
  std::vector<Cell> cells;
  std::vector<Face> faces;
  std::vector<Mesh::Part> probe;
  std::array<float, 8> vapor{};  ///< ln of the saturated vapor's density, powers of x
  double fastest_m2 = 0;         ///< largest of 2 sum(links) + sum(faces), thickness 1 [1/m2]
  double fastest_z_m2 = 0;       ///< the part of it that goes with thickness^-2
  double step_s = 0;
  int steps_a_sample = 1, samples = 0;
  const Brick* brick = nullptr;
  const Surface* surface = nullptr;
  const Schedule* schedule = nullptr;
  bool varies = false;  ///< some track of the schedule changes with time
};

/// x of Plan::vapor: -1 .. 1 between these two.
inline constexpr float vapor_low_c = -20, vapor_high_c = 200;

/// One block's share of the work: up to W members, whose results it writes.
struct Task {
  std::span<const Member> members;
  std::vector<Material> materials;  ///< one a member
  int first = 0;                    ///< index of the first member in `out`
  EnsembleRun* out = nullptr;
  double evaluations = 0;  ///< of the rate, returned
};

/// How many members a block holds, and the work itself, for one set of instructions.
int lanes(Instructions instructions);
void run_block(const Plan& plan, Task& task, Instructions instructions);

}  // namespace pitwright::food
