// All thermometers side by side: what most of them say is the reference.

#include <algorithm>
#include <cmath>

#include "series/moments.h"
#include "series/robust.h"
#include "thermometer/readings.h"

namespace pitwright::thermometer {
namespace {

constexpr double unchecked_k = 4.0 / 1.8;         ///< +- at 95 % of a thermometer nobody checked
constexpr double median_waste = 1.2533141373155;  ///< sqrt(pi / 2): sd of a median over a mean's

/// The middle of a bundle round by round, and how well it is known.
struct Middle {
  std::vector<double> celsius;  ///< a round
  double standard_k = 0.0;      ///< shared by all
  bool is_absolute = false;
};

Middle middle_of(const std::vector<Entry>& entries, Place place) {
  std::size_t rounds = 0;
  int anchors = 0;
  for (const auto& entry : entries) {
    const auto& readings = entry.candidate->readings[index_of(place)];
    rounds = std::max(rounds, readings.size());
    const bool was_read = std::ranges::any_of(readings, [](double c) { return std::isfinite(c); });
    anchors += entry.fixed && was_read ? 1 : 0;
  }
  Middle middle;
  middle.is_absolute = anchors > 0;
  double own = 0.0, shared = 0.0;
  std::vector<std::vector<double>> at(rounds);
  for (const auto& entry : entries) {
    if (middle.is_absolute && !entry.fixed) continue;
    const auto& readings = entry.candidate->readings[index_of(place)];
    const double usual = series::median(readings);
    if (!std::isfinite(usual)) continue;
    for (std::size_t k = 0; k < readings.size(); ++k) {
      if (!std::isfinite(readings[k])) continue;
      at[k].push_back(readings[k] + (entry.fixed ? entry.fixed->add_k(readings[k]) : 0.0));
    }
    if (!entry.fixed) continue;
    const auto u = uncertainty_of(*entry.fixed, usual, unknown_gain);
    own += square(u.own_k / normal_95);
    shared = std::max(shared, square(u.shared_k / normal_95));
  }
  for (const auto& round : at) middle.celsius.push_back(series::median(round));
  if (!middle.is_absolute) {
    middle.standard_k = unchecked_k / normal_95;
  } else {
    const double waste = anchors > 2 ? square(median_waste) : 1.0;
    middle.standard_k = std::sqrt(shared + waste * own / square(static_cast<double>(anchors)));
  }
  return middle;
}

void note_miss(Entry& entry, Place place, double accept_k) {
  if (!entry.fixed) return;
  const auto& point = *entry.points[index_of(place)];
  const double left = entry.fixed->add_k(point.reading_c) - point.add_k;
  const auto line = uncertainty_of(*entry.fixed, point.reading_c, unknown_gain);
  const double limit = std::max(accept_k, std::hypot(line.own_k, normal_95 * point.own_k));
  if (std::abs(left) <= limit || std::abs(left) <= std::abs(entry.bundle_left_k)) return;
  entry.bundle_left_k = left;
  entry.bundle_left_at = place;
}

}  // namespace

double range_of(const std::vector<double>& values) {
  if (values.size() < 2) return 0.0;
  const auto [low, high] = std::ranges::minmax(values);
  return high - low;
}

std::optional<Bundle> read_bundle(std::vector<Entry>& entries, Place place,
                                  const Conditions& conditions) {
  const auto read = std::ranges::count_if(
      entries, [place](const Entry& entry) { return was_read(entry, place); });
  if (read < 2) return std::nullopt;
  const auto middle = middle_of(entries, place);
  const double uneven = place == Place::cold ? conditions.cold_uneven_k : conditions.hot_uneven_k;
  std::vector<Sample> samples;
  std::vector<double> raw;
  for (const auto& entry : entries) {
    samples.push_back(sample_of(entry.candidate->readings[index_of(place)], middle.celsius));
    if (samples.back().count > 0) raw.push_back(-samples.back().add_k);
  }
  const auto pooled = pooled_of(samples);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    entries[i].samples[index_of(place)] = samples[i];
    if (samples[i].count == 0) continue;
    entries[i].points[index_of(place)] =
        point_of(samples[i], pooled, entries[i].candidate->resolution_k, uneven, middle.standard_k);
    note_miss(entries[i], place, conditions.accept_k);
  }
  return Bundle{place,
                static_cast<int>(middle.celsius.size()),
                series::mean(middle.celsius),
                middle.is_absolute,
                range_of(raw),
                0.0};
}

}  // namespace pitwright::thermometer
