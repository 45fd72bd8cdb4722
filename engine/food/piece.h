#pragma once

#include <array>
#include <optional>
#include <string>

#include "food/cuts.h"
#include "food/material.h"
#include "food/mesh.h"

namespace pitwright::food {

/// What a person knows of a piece. Mass or sides, or both.
struct PieceAsked {
  std::string cut;
  std::optional<double> mass_kg{};
  std::optional<std::array<double, 3>> sides_m{};  ///< length, width, thickness in the middle
  std::optional<double> taper{};                   ///< thin end / thick end; absent: the cut's
  std::optional<Composition> composition{};        ///< absent: the cut's
  double start_c = 4;
  std::array<int, 3> cells{10, 10, 10};
};

/// A piece ready to be cooked: a brick, its thickness falling evenly from left to right.
struct Piece {
  Brick brick;
  Composition composition;
  Material material;
  double start_c = 4;
  double mass_kg = 0;
  bool bone_left_out = false;  ///< the cut usually has one; it is computed as meat
};

/// Fails: not_found (no such cut); bad_input where neither mass nor sides are given, where one is
/// out of range (5 mm to 2 m, 20 g to 200 kg, taper 0.1 to 1, start -40 to 60 degC, 3 to 60 cells a
/// side), or where mass and sides contradict each other. Given both, the sides keep their
/// proportions and are scaled to the mass: no piece is a box.
Result<Piece> make_piece(const PieceAsked& asked, const MaterialOptions& options = {});

}  // namespace pitwright::food
