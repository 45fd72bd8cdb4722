#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace pitwright::food {

/// A first-order change of a protein: dN/dt = -k(T) N.
///   k(T) = k_ref exp[-Ea/R (1/T - 1/T_ref)],   R = 8.314
struct Reaction {
  std::string_view name;
  double k_ref_per_s;
  double t_ref_c;
  double activation_j_mol;

  double rate(double t_c) const;
  /// Share still native after a temperature trace, straight lines between its points.
  double remaining(std::span<const double> times_s, std::span<const double> t_c) const;
};

/// Myosin: Ea 241 kJ/mol, Kajitani et al. (2011), cured pork; rate so that its DSC peak lies at
/// 56 degC (54-58, Palka & Wesierska 2014) when heated at 10 K/min (Kissinger; the rate of heating
/// is our assumption).
Reaction myosin();
/// Sarcoplasmic proteins with collagen: Ea 326 kJ/mol (Kajitani), peak at 66 degC, likewise.
Reaction sarcoplasmic();
/// Actin, low salt: 0.1 /min at 70 degC, Ea 250 kJ/mol (Kajitani et al. 2011). Salt makes it
/// faster: 17 times at 40 mg/g.
Reaction actin();
/// Shrinking of collagen: shear force falls by half its drop in 11 min at 58 degC (Machlik & Draudt
/// 1963); Ea 518 kJ/mol (Miles et al. 1995; from memory, uncertain).
Reaction collagen_shrinkage();
/// Myoglobin, the color of doneness: k0 7.98e43 /min, Ea 290 kJ/mol (Geileskey et al. 1998, read
/// second-hand). Rare: 6.5 % changed, well done: 93 %.
Reaction myoglobin();

/// Minutes at 100 degC that would do the same: integral of 10^((T - 100)/z) dt [min].
/// EMPIRICAL: the slow softening of collagen above 70 degC has no published pair of numbers we
/// trust; z = 33 K is the usual one for cooking (Mansfield 1962, from memory) and should be fitted
/// to what a cook finds tender.
double cook_value(std::span<const double> times_s, std::span<const double> t_c, double z_k = 33);

/// Done: the core at a temperature for a while.
struct Doneness {
  double core_c = 93;
  double dwell_s = 0;
};
/// Of words people use (common practice, no source); absent: unknown word.
///   rare 52, medium rare 55, medium 60, well done 71, slice 85, tender 94 degC
std::optional<Doneness> doneness_of(std::string_view word);
/// When a trace is done [s]: the end of the first unbroken stretch of dwell_s at or above core_c;
/// absent: not within the trace.
std::optional<double> done_at(std::span<const double> times_s, std::span<const double> t_c,
                              const Doneness& wanted);

}  // namespace pitwright::food
