#include "thermometer/roll_call.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/expects.h"
#include "thermometer/line_fit.h"
#include "thermometer/readings.h"

namespace pitwright::thermometer {
namespace {

constexpr double steepest = 0.05;  ///< a working sensor's gain is within this
constexpr double far_times_accept = 3.0;

/// The line at its outermost checks and where it will be used, as points of a correction.
Correction correction_of(const LineFit& line, double used_at_c) {
  constexpr double apart_k = 5.0;
  std::vector<double> at;
  for (const auto& p : line.points) at.push_back(p.reading_c);
  const auto [low, high] = std::ranges::minmax(at);
  at = {low};
  for (const double more : {high, used_at_c}) {
    if (std::ranges::all_of(at, [&](double one) { return std::abs(one - more) > apart_k; }))
      at.push_back(more);
  }
  std::ranges::sort(at);
  Correction out;
  for (const double c : at) {
    out.points.push_back({c, line.add_k(c), uncertainty_of(line, c, unknown_gain).all_k});
  }
  out.shared_k = uncertainty_of(line, used_at_c, unknown_gain).shared_k;
  return out;
}

struct Doubt {
  Verdict verdict;
  Reason reason;
  std::optional<Place> where;
  double amount_k;
};

/// What speaks against a thermometer, the worst first; empty where nothing does.
std::optional<Doubt> doubt_of(const Entry& entry, const LineFit& line,
                              const Conditions& conditions) {
  for (const Place place : all_places) {
    const auto& sample = entry.samples[index_of(place)];
    if (sample.count > 1 && sample.sd_k > conditions.accept_k)
      return Doubt{Verdict::bin, Reason::scatter, place, sample.sd_k};
  }
  if (line.has_slope && std::abs(line.slope) > steepest)
    return Doubt{Verdict::bin, Reason::steep, {}, line.slope * (conditions.used_at_c)};
  const double add = line.add_k(conditions.used_at_c);
  if (std::abs(add) > far_times_accept * conditions.accept_k)
    return Doubt{Verdict::bin, Reason::far_off, {}, add};
  if (entry.bundle_left_at)
    return Doubt{Verdict::apart, Reason::bundle, entry.bundle_left_at, entry.bundle_left_k};
  return std::nullopt;
}

Shown shown_at(const Entry& entry, Place place) {
  const auto& sample = entry.samples[index_of(place)];
  const auto& point = *entry.points[index_of(place)];
  Shown out;
  out.count = sample.count;
  out.reading_c = sample.reading_c;
  if (sample.count > 1) out.spread_k = sample.sd_k;
  out.add_k = sample.add_k;
  out.uncertainty_k = uncertainty_of(fit_line({point}, INFINITY), point.reading_c, 0.0).all_k;
  return out;
}

Checked checked_of(const Entry& entry, const Conditions& conditions) {
  Checked out;
  out.name = entry.candidate->name;
  for (const Place place : all_places) {
    if (entry.points[index_of(place)]) out.at[index_of(place)] = shown_at(entry, place);
  }
  // Where it stands apart in a bundle, the bundle says nothing about the thermometer itself.
  const auto points =
      entry.bundle_left_at ? points_at(entry, fixed_places) : points_at(entry, all_places);
  if (points.empty()) {
    out.reason = Reason::no_reference;
    return out;
  }
  const auto line = fit_line(points, least_span_k);
  const auto u = uncertainty_of(line, conditions.used_at_c, unknown_gain);
  out.has_gain = line.has_slope;
  out.slope = line.slope;
  out.add_k = line.add_k(conditions.used_at_c);
  out.uncertainty_k = u.all_k;
  out.own_k = u.own_k;
  for (const Place place : all_places) {
    auto& shown = out.at[index_of(place)];
    if (shown) shown->left_k = line.add_k(shown->reading_c) - shown->add_k;
  }
  out.verdict = std::abs(out.add_k) <= out.uncertainty_k ? Verdict::good : Verdict::correct;
  if (const auto doubt = doubt_of(entry, line, conditions)) {
    out.verdict = doubt->verdict;
    out.reason = doubt->reason;
    out.where = doubt->where;
    out.amount_k = doubt->amount_k;
  }
  if (out.verdict != Verdict::bin) out.correction = correction_of(line, conditions.used_at_c);
  const bool stands = out.verdict == Verdict::good || out.verdict == Verdict::correct;
  out.comparable = stands && out.own_k <= conditions.accept_k;
  return out;
}

}  // namespace

std::string_view name_of(Place place) {
  switch (place) {
    case Place::ice:
      return "ice";
    case Place::boil:
      return "boil";
    case Place::cold:
      return "cold";
    case Place::hot:
      return "hot";
  }
  std::unreachable();
}

std::string_view name_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::good:
      return "good";
    case Verdict::correct:
      return "correct it";
    case Verdict::apart:
      return "keep apart";
    case Verdict::bin:
      return "bin it";
    case Verdict::unread:
      return "not checked";
  }
  std::unreachable();
}

RollCall hold(const Conditions& conditions, const std::vector<Candidate>& candidates) {
  expects(!candidates.empty());
  std::vector<Entry> entries;
  for (const auto& candidate : candidates) {
    expects(candidate.resolution_k > 0.0);
    entries.push_back({&candidate, {}, {}, {}, 0.0, {}});
  }
  read_fixed(entries, Place::ice, conditions.ice);
  read_fixed(entries, Place::boil, conditions.boil);
  for (auto& entry : entries) {
    auto points = points_at(entry, fixed_places);
    if (!points.empty()) entry.fixed = fit_line(std::move(points), least_span_k);
  }
  RollCall out{conditions, {}, {}};
  for (const Place place : {Place::cold, Place::hot}) {
    if (auto bundle = read_bundle(entries, place, conditions)) out.bundles.push_back(*bundle);
  }
  for (const auto& entry : entries) out.probes.push_back(checked_of(entry, conditions));
  for (auto& bundle : out.bundles) {
    std::vector<double> left;
    for (const auto& probe : out.probes) {
      const auto& shown = probe.at[index_of(bundle.place)];
      if (probe.comparable && shown && shown->left_k) left.push_back(*shown->left_k);
    }
    bundle.corrected_range_k = range_of(left);
  }
  return out;
}

}  // namespace pitwright::thermometer
