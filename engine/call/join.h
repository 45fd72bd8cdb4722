#pragma once

#include "call/tables.h"
#include "call/together.h"

namespace pitwright::call {

/// The runs, the level and the dial gap with their covariances between settings, and what every
/// thermometer showed over the counted time.
///   The call gives the variance D_i of a run, which is e_i less the mean of e over n level spots:
///   D_i = v_i (1 - 2/n) + sum(v) / n^2 (n > 2), solved for the spots' own variances v_i, kept
///   between 0.3 and 4 of D_i / (1 - 1/n); the covariance between settings goes with it.
Together join(const Panel& panel, const Windows& windows, const Moments& moments,
              const Tables& tables);

}  // namespace pitwright::call
