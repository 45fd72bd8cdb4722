#pragma once

#include <array>
#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "thermometer/line_fit.h"
#include "thermometer/roll_call.h"

namespace pitwright::thermometer {

inline constexpr double least_span_k = 30.0;  ///< checks closer than this tell no gain
inline constexpr double unknown_gain = 0.01;  ///< +-, of a thermometer whose gain nobody checked
inline constexpr double normal_95 = 1.959964;
inline constexpr std::array fixed_places{Place::ice, Place::boil};

inline std::size_t index_of(Place place) {
  return static_cast<std::size_t>(place);
}

inline double square(double x) {
  return x * x;
}

/// The readings of one place, of a bundle already less the common course.
struct Sample {
  int count = 0;
  static constexpr double none = std::numeric_limits<double>::quiet_NaN();
  double reading_c = none, add_k = none, sd_k = none;
};

/// The sd of single readings in one place, over all that were read there more than once.
struct Pooled {
  double sd_k = 0.0, freedom = 0.0;
};

/// What is known of one thermometer while the roll call goes on.
struct Entry {
  const Candidate* candidate;
  std::array<std::optional<CheckPoint>, 4> points;  ///< by Place
  std::array<Sample, 4> samples;
  std::optional<LineFit> fixed;  ///< through ice and boil
  double bundle_left_k = 0.0;    ///< largest miss of the fixed line in a bundle
  std::optional<Place> bundle_left_at;
};

/// Readings against what they should have been, index by index; NaN where either is missing.
Sample sample_of(std::span<const double> readings, std::span<const double> reference);

Pooled pooled_of(const std::vector<Sample>& samples);

/// A sample as a point of the line. `own_more_k` is what the place adds for each thermometer alone.
CheckPoint point_of(const Sample& sample, const Pooled& pooled, double resolution_k,
                    double own_more_k, double shared_k);

/// Whether the thermometer was read at the place at all.
bool was_read(const Entry& entry, Place place);

std::vector<CheckPoint> points_at(const Entry& entry, std::span<const Place> places);

/// Reads ice or boil into the entries.
void read_fixed(std::vector<Entry>& entries, Place place, const std::optional<FixedPoint>& fixed);

/// Reads a bundle into the entries, whose `fixed` lines stand; empty with fewer than two readers.
std::optional<Bundle> read_bundle(std::vector<Entry>& entries, Place place,
                                  const Conditions& conditions);

/// Highest less lowest; 0 below two.
double range_of(const std::vector<double>& values);

}  // namespace pitwright::thermometer
