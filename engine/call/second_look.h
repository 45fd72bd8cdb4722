#pragma once

#include <optional>

#include "call/tables.h"

namespace pitwright::call {

/// How an answer fares when part of its evidence is looked at alone.
struct SecondLook {
  double moved_k = 0.0;            ///< by how much the change moves, or the halves differ
  numeric::NormalMixture without;  ///< law of the change without the part
  int stretch = -1;                ///< the part, where it is a stretch
};

/// The stretch without which the change between two settings is another, if there is one: it moves
/// the change by more than half of `matters_k`, and the model with a shift of its own for this
/// stretch excludes a zero shift at `error`. Only stretches of settings that have another one.
std::optional<SecondLook> deciding_stretch(const Tables& tables, const Measured& measured, int from,
                                           int to, double matters_k, double error);

/// The difference between the change in the second and in the first half of the burn, if it is more
/// than `matters_k` and the model that lets the halves differ excludes zero at `error`. Empty where
/// a half lacks one of the settings.
std::optional<SecondLook> disagreeing_halves(const Tables& tables, const Measured& measured,
                                             int from, int to, double matters_k, double error);

}  // namespace pitwright::call
