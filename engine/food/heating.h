#pragma once

#include <span>
#include <vector>

#include "food/material.h"
#include "food/mesh.h"
#include "food/surroundings.h"

namespace pitwright::food {

/// What crosses the surface at one face and moment, per m2 and second.
struct Crossing {
  double surface_c;
  double heat_w_m2;     ///< from the air: convection and radiation
  double vapor_kg_m2s;  ///< evaporated; negative: condensed
  double vapor_heat_w_m2;
};

/// The equations of a piece in its surroundings, in double precision; the reference of the
/// ensemble's kernel. See docs/methods/food.md.
///
/// State: heat of each cell [J]; water each cell holds [kg/kg raw]; for each face what the front
/// has taken and not got back [kg/m2], below zero a film of liquid; then the ledger (enum Ledger).
class Heating {
 public:
  enum Ledger { heat_in, vapor_heat, water_heat, evaporated, dripped, ledgers };

  Heating(const Mesh& mesh, const Material& material, const Surface& surface);

  int cells() const { return mesh_->cells(); }
  int faces() const { return static_cast<int>(mesh_->faces.size()); }
  int size() const { return 2 * cells() + faces() + ledgers; }

  /// The whole piece at one temperature, its surface without a film.
  std::vector<double> start(double t_c) const;

  /// dy/dt with the surroundings held. Keeps the last temperatures as first guesses: the result
  /// depends on them only below 1e-10 K.
  void rate(std::span<const Outside> around, std::span<const double> y, std::span<double> dy);

  /// An upper bound of the fastest decay [1/s] near the state of the last `rate`.
  double fastest() const;

  /// Temperatures of the cells [degC] in a state.
  void temperatures(std::span<const double> y, std::span<double> t_c);
  double probe_c(std::span<const double> t_c) const;
  std::span<const Crossing> crossings() const { return crossing_; }
  double mass_kg() const { return mass_; }
  /// Heat in the piece [J]; water in it [kg], the surface's film and loss included.
  double heat_held(std::span<const double> y) const;
  double water_held(std::span<const double> y) const;
  double ledger(std::span<const double> y, Ledger which) const {
    return y[static_cast<std::size_t>(2 * cells() + faces() + which)];
  }
  const Mesh& mesh() const { return *mesh_; }

 private:
  Crossing cross(const Mesh::Face& face, const Outside& out, double deficit, double guess_c) const;
  double resistance(const Outside& out, double deficit) const;
  void conduct(std::span<double> heat) const;
  void release(std::span<const double> water, std::span<double> dheat, std::span<double> dwater);
  void surfaces(std::span<const Outside> around, std::span<const double> deficit,
                std::span<double> dy);

  const Mesh* mesh_;
  const Material* material_;
  Surface surface_;
  double mass_ = 0;
  double dried_water_ = 0;  ///< water the front takes from a volume of crust [kg/m3]
  std::vector<double> t_c_, k_sum_, supply_;
  std::vector<Crossing> crossing_;
  double front_rate_ = 0;
};

}  // namespace pitwright::food
