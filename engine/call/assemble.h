#pragma once

#include "call/report.h"
#include "call/tables.h"

namespace pitwright::call {

/// What a verdict rests on. `now` gives values and their single ranges; `closed`, as known when the
/// last stint closed, gives the words. They are the same object where every stint is closed.
struct Evidence {
  const Panel& panel;
  const Windows& windows;
  const Moments& moments;
  const Tables& now;
  const Tables& closed;
  int closed_stints;
  double matters_k;
  double dial_uncertainty_k;
  Scale scale;  ///< for explain() only
};

/// Fills level, spots, tilts, spread and dial gap of the report: values, ranges and words, before
/// the trust checks and without needs_stints.
void fill_tables(const Evidence& evidence, Report& report);

}  // namespace pitwright::call
