#include "food/piece.h"

#include <algorithm>
#include <cmath>

namespace pitwright::food {

namespace {

Result<void> check(const PieceAsked& a) {
  if (!a.mass_kg && !a.sides_m) {
    return fail(ErrorKind::bad_input, "a piece needs a weight or its three sides");
  }
  if (a.mass_kg && !(*a.mass_kg >= .02 && *a.mass_kg <= 200)) {
    return fail(ErrorKind::bad_input, "a weight of {} kg: it must lie between 20 g and 200 kg",
                *a.mass_kg);
  }
  if (a.sides_m) {
    for (const double side : *a.sides_m) {
      if (!(side >= .005 && side <= 2)) {
        return fail(ErrorKind::bad_input, "a side of {} m: it must lie between 5 mm and 2 m", side);
      }
    }
  }
  if (a.taper && !(*a.taper >= .1 && *a.taper <= 1)) {
    return fail(ErrorKind::bad_input, "a taper of {}: the thin end is 0.1 to 1 of the thick one",
                *a.taper);
  }
  if (!(a.start_c >= -40 && a.start_c <= 60)) {
    return fail(ErrorKind::bad_input, "a start at {} °C: it must lie between -40 and 60 °C",
                a.start_c);
  }
  if (std::ranges::any_of(a.cells, [](int n) { return n < 3 || n > 60; })) {
    return fail(ErrorKind::bad_input, "a piece is cut into 3 to 60 cells along each side");
  }
  return {};
}

/// Length, width and mean thickness before they are scaled to the mass.
std::array<double, 3> proportions(const PieceAsked& asked, const Cut& cut) {
  return asked.sides_m.value_or(std::array<double, 3>{cut.length, cut.width, 1.0});
}

}  // namespace

Result<Piece> make_piece(const PieceAsked& asked, const MaterialOptions& options) {
  if (const auto ok = check(asked); !ok) return std::unexpected(ok.error());
  const auto cut = find_cut(asked.cut);
  if (!cut) return std::unexpected(cut.error());
  const auto food = make_composition(asked.composition.value_or(cut->per_100g));
  if (!food) return std::unexpected(food.error());

  Piece piece;
  piece.composition = *food;
  piece.material = make_material(*food, options);
  piece.start_c = asked.start_c;
  piece.bone_left_out = cut->has_bone;
  auto side = proportions(asked, *cut);
  const double box = side[0] * side[1] * side[2];
  piece.mass_kg = asked.mass_kg.value_or(piece.material.density * box);
  const double filled = piece.mass_kg / piece.material.density / box;
  if (asked.sides_m && asked.mass_kg && !(filled >= .35 && filled <= 1.15)) {
    return fail(ErrorKind::bad_input,
                "a piece of {:.3g} kg fills {:.0f} % of a box with these sides; weigh or measure "
                "it again",
                piece.mass_kg, 100 * filled);
  }
  for (auto& s : side) s *= std::cbrt(filled);
  if (std::ranges::any_of(side, [](double s) { return s < .005 || s > 2; })) {
    return fail(ErrorKind::bad_input,
                "a piece of {:.3g} kg of this cut is no size to cook; give "
                "its sides",
                piece.mass_kg);
  }
  const double taper = asked.taper.value_or(cut->taper);
  piece.brick = {.length_m = side[0],
                 .width_m = side[1],
                 .thick_m = 2 * side[2] / (1 + taper),
                 .thin_m = 2 * side[2] * taper / (1 + taper),
                 .cells = asked.cells,
                 .probe = {taper < .95 ? .35 : .5, .5, .5}};
  return piece;
}

}  // namespace pitwright::food
