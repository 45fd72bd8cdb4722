#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "call/panel.h"
#include "call/report.h"
#include "pit/burn.h"
#include "series/resample.h"

namespace pitwright::call {

/// A probe's readings while they are checked: what is thrown out becomes NaN.
struct Column {
  const Probe* probe;
  std::vector<double> values;   ///< as logged [degC], one a reading of the probe
  std::vector<double> celsius;  ///< at the panel's moments, corrected
};

/// For each column, the mean of all others, each brought to the common height; NaN where none is
/// good. Shapes: every column of n; result columns x n.
std::vector<std::vector<double>> others_of(const std::vector<Column>& columns);

/// Turns readings that no chamber has (below -40 or above 700 degC: open wires, sentinels, rails)
/// into NaN. True where the probe is dead: more than half of its readings were such.
bool drop_impossible(Column& column);

/// A probe that shows one value for the whole burn while the others move by more than 5 K.
bool is_stuck(const Column& column, std::span<const double> others);

/// Throws out runs of one repeated value during which the others moved by more than the probe's
/// rounding explains; see docs/methods/windows.md for the rule. One trouble a run.
std::vector<Trouble> drop_frozen(Column& column, std::span<const double> others,
                                 const series::Moments& moments);

/// Time without readings between from_s and to_s; one trouble for the probe, none below 2 min.
/// `whole`: also count what is missing before the probe's first and after its last reading.
std::optional<Trouble> missing_of(const Column& column, double from_s, double to_s, bool whole);

/// Moments at which a sudden step is nobody's fault: settings changed, lids opened, probes moved.
std::vector<double> known_moments(const Burn& burn);

/// Steps of one probe against all others that stay: largest first at one moment, kept in the data.
/// Looks only where three or more probes can outvote it.
std::vector<Trouble> jumps_of(const std::vector<Column>& columns, const series::Moments& moments,
                              std::span<const double> known_s);

/// How every probe answers the common swing, or without one the common ups and downs of a long
/// record; empty with fewer than three probes or where a record without a swing is too short.
std::vector<ProbeAnswer> answers_of(const std::vector<Column>& columns,
                                    const series::Moments& moments);

/// Of these the probes that show less than two thirds of it and late as well: touching metal?
std::vector<Trouble> touching_of(const std::vector<ProbeAnswer>& answers);

}  // namespace pitwright::call
