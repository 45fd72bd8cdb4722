#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "pit/correction.h"

namespace pitwright::thermometer {

/// Where thermometers were read: two fixed points, and all of them side by side in the chamber.
enum class Place { ice, boil, cold, hot };

inline constexpr std::array all_places{Place::ice, Place::boil, Place::cold, Place::hot};

std::string_view name_of(Place place);

/// A fixed point: its temperature and standard uncertainty, the same for all read in it.
struct FixedPoint {
  double celsius;
  double standard_k;
};

/// How a roll call was held.
struct Conditions {
  std::optional<FixedPoint> ice, boil;
  double cold_uneven_k = 0.1, hot_uneven_k = 0.6;  ///< standard: how tips side by side differ
  double used_at_c = 250.0 / 1.8 - 32.0 / 1.8;     ///< where the corrections will be used
  double accept_k = 4.0 / 1.8;                     ///< the disagreement people put up with
};

/// One thermometer's readings [degC], uncorrected; NaN where a round has none. In `cold` and `hot`
/// the same index is the same moment for all thermometers.
struct Candidate {
  std::string name;
  double resolution_k;                          ///< step of its display
  std::array<std::vector<double>, 4> readings;  ///< by Place
};

enum class Verdict {
  good,     ///< what its correction says is within its own uncertainty
  correct,  ///< apply the correction
  apart,    ///< right by itself, but not where all are together: keep it out of comparisons
  bin,      ///< not to be trusted
  unread    ///< no reading that tells anything
};

std::string_view name_of(Verdict verdict);

/// Why a verdict is as it is; words for people are made in app/checked.
enum class Reason { none, scatter, steep, far_off, bundle, no_reference };

/// What one thermometer showed at one place.
struct Shown {
  int count = 0;
  double reading_c = 0.0;          ///< mean
  std::optional<double> spread_k;  ///< sd of the readings, in a bundle about the common course
  double add_k = 0.0;              ///< reference less reading
  double uncertainty_k = 0.0;      ///< +- at 95 %
  std::optional<double> left_k;    ///< what the correction in use leaves at this place
};

struct Checked {
  std::string name;
  std::array<std::optional<Shown>, 4> at;  ///< by Place; empty where it was not read
  Correction correction;                   ///< empty for bin and unread
  bool has_gain = false;                   ///< a slope was found, not only an offset
  double slope = 0.0;                      ///< [K/K]
  double add_k = 0.0;                      ///< at used_at_c
  double uncertainty_k = 0.0;              ///< +- at 95 %, at used_at_c
  double own_k = 0.0;                      ///< the part of it that is this thermometer's alone
  Verdict verdict = Verdict::unread;
  Reason reason = Reason::none;
  std::optional<Place> where;  ///< the place the reason is about
  double amount_k = 0.0;       ///< and its size
  bool comparable = false;  ///< its readings may be held against those of the other comparable ones
};

/// All thermometers side by side.
struct Bundle {
  Place place;
  int rounds;
  double center_c;           ///< mean over the rounds of the middle of all
  bool is_absolute;          ///< ice or boil tell the middle; else it is only what most of them say
  double raw_range_k;        ///< highest less lowest, as shown
  double corrected_range_k;  ///< of the comparable ones, corrected
};

struct RollCall {
  Conditions conditions;
  std::vector<Checked> probes;
  std::vector<Bundle> bundles;
};

/// Holds the roll call.
///   fixed points  add = reference - mean reading; u^2 = s^2/n + resolution^2/12 + u_reference^2;
///   where
///                 one reading was taken s is that of the others in the same bath
///   line          weighted least squares over a thermometer's fixed points (see fit_line)
///   bundle        each round's middle is the median of the corrected readings of those that were
///                 in ice or boil, or of all where none was; add = middle - reading, averaged over
///                 the rounds
///   correction    the line over fixed points and bundles together
/// Source: JCGM 100 (GUM); the limits are our own choices, see docs/methods/rollcall.md.
/// Pre: at least one candidate; finite readings between -60 and 700 degC; the same number of
/// rounds.
RollCall hold(const Conditions& conditions, const std::vector<Candidate>& candidates);

}  // namespace pitwright::thermometer
