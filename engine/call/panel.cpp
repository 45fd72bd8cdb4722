#include "call/panel.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "call/health.h"
#include "series/resample.h"
#include "series/robust.h"
#include "series/smooth.h"

namespace pitwright::call {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// +- at 95 % of a thermometer nobody checked: 4 degF, the product's default.
constexpr double unchecked_uncertainty_k = 2.2;

constexpr double most_moments = 20000.0;
constexpr double shortest_step_s = 1.0;
constexpr int fewest_shared = 10;  ///< moments two probes share before they are offset
constexpr double shortest_shared_s = 300.0;

std::string place_of(const Probe& probe) {
  return probe.spot.empty() ? probe.channel : probe.spot;
}

std::vector<Column> columns_of(const Burn& burn, Role role) {
  std::vector<Column> out;
  for (const Probe& probe : burn.probes) {
    if (probe.role == role) out.push_back({&probe, probe.readings.values, {}});
  }
  return out;
}

void drop_column(std::vector<Column>& columns, std::size_t i, std::vector<Trouble>& troubles) {
  const auto& seconds = columns[i].probe->readings.seconds;
  const std::optional<double> at = seconds.empty() ? std::nullopt : std::optional(seconds.front());
  troubles.push_back(
      {TroubleKind::probe, TroubleCode::probe_dead, columns[i].probe->channel, at, 0.0});
  columns.erase(columns.begin() + static_cast<std::ptrdiff_t>(i));
}

bool has_any(const Column& column) {
  return std::ranges::any_of(column.values, [](double v) { return std::isfinite(v); });
}

series::Moments moments_of(const std::vector<Column>& air) {
  double first = INFINITY, last = -INFINITY;
  std::vector<double> intervals;
  for (const Column& c : air) {
    const auto& seconds = c.probe->readings.seconds;
    for (std::size_t i = 0; i < seconds.size(); ++i) {
      if (!std::isfinite(c.values[i])) continue;
      first = std::min(first, seconds[i]);
      break;
    }
    for (std::size_t i = seconds.size(); i-- > 0;) {
      if (!std::isfinite(c.values[i])) continue;
      last = std::max(last, seconds[i]);
      break;
    }
    intervals.push_back(series::usual_interval_s(seconds, c.values));
  }
  if (!(last >= first)) return {0.0, 10.0, 0};
  const double usual = series::median(intervals);
  double step = std::max({shortest_step_s, usual, (last - first) / most_moments});
  if (step > usual) step = std::ceil(step);
  return {first, step, static_cast<int>((last - first) / step) + 1};
}

void lay_out(Column& column, const series::Moments& moments) {
  column.celsius = series::on_moments(column.probe->readings.seconds, column.values, moments);
  const Probe& probe = *column.probe;
  if (probe.line.points.empty() && probe.correction.kelvins() == 0.0) return;
  for (double& v : column.celsius) v += correction_k(probe, v);
}

void drop_stuck(std::vector<Column>& columns, std::vector<Trouble>& troubles) {
  if (columns.size() < 2) return;
  const auto others = others_of(columns);
  for (std::size_t i = columns.size(); i-- > 0;) {
    if (is_stuck(columns[i], others[i])) drop_column(columns, i, troubles);
  }
}

void check_frozen(std::vector<Column>& columns, const series::Moments& moments,
                  std::vector<Trouble>& troubles) {
  std::vector<std::size_t> changed;
  const auto others = others_of(columns);
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const auto found = drop_frozen(columns[i], others[i], moments);
    troubles.insert(troubles.end(), found.begin(), found.end());
    if (!found.empty()) changed.push_back(i);
  }
  for (const std::size_t i : changed) lay_out(columns[i], moments);
}

/// Seconds in which readings are owed: from the first stint's start (or the first reading) to the
/// last stint's end (or the last reading).
void check_missing(const Burn& burn, const std::vector<Column>& columns,
                   const series::Moments& moments, std::vector<Trouble>& troubles) {
  double from_s = moments.start_s, to_s = moments.start_s + moments.n * moments.step_s;
  if (!burn.stints.empty()) {
    from_s = std::max(from_s, burn.stints.front().from_s);
    to_s = std::min(to_s, burn.stints.back().to_s);
  }
  if (to_s <= from_s) return;
  for (const Column& c : columns) {
    const auto places = std::ranges::count_if(
        burn.probes, [&](const Probe& p) { return p.channel == c.probe->channel; });
    const auto found = missing_of(c, from_s, to_s, places == 1);
    if (found) troubles.push_back(*found);
  }
}

int shared_moments(const Column& a, const Column& b) {
  int n = 0;
  for (std::size_t t = 0; t < a.celsius.size(); ++t) {
    n += std::isfinite(a.celsius[t] + b.celsius[t]) ? 1 : 0;
  }
  return n;
}

/// What a column's thermometer is known to; at its usual reading.
struct Trust {
  double uncertainty_k, shared_k;
  bool checked;
};

Trust trust_of(const Column& column) {
  const Probe& probe = *column.probe;
  const auto told = uncertainty_k(probe, series::median(column.values));
  if (!told) return {unchecked_uncertainty_k, 0.0, false};
  return {*told, std::min(*told, probe.line.shared_k), true};
}

/// One spot from the columns of the probes that sat there. Probes side by side are averaged, and
/// one that drops out takes its offset with it; probes one after the other simply follow.
PanelSpot spot_of(const std::vector<const Column*>& here, const series::Moments& moments) {
  const Probe& first = *here.front()->probe;
  const Trust alone = trust_of(*here.front());
  PanelSpot out{
      place_of(first), first.channel,       first.grate,    first.x_m,     first.y_m,
      first.z_m,       alone.uncertainty_k, alone.shared_k, alone.checked, here.front()->celsius};
  if (here.size() == 1) return out;
  bool is_side_by_side = false;
  const auto count = static_cast<double>(here.size());
  double own_squares = 0.0, shared = 0.0, largest = 0.0;
  std::vector<std::span<const double>> spans;
  for (std::size_t i = 0; i < here.size(); ++i) {
    const Probe& probe = *here[i]->probe;
    if (i > 0 && ("+" + out.channel + "+").find("+" + probe.channel + "+") == std::string::npos) {
      out.channel += "+" + probe.channel;
    }
    const auto [u, shared_k, checked] = trust_of(*here[i]);
    own_squares += u * u - shared_k * shared_k;
    shared += shared_k / count;
    largest = std::max(largest, u);
    out.shared_k = std::min(out.shared_k, shared_k);
    out.checked = out.checked && checked;
    spans.emplace_back(here[i]->celsius);
    for (std::size_t k = 0; k < i; ++k) {
      const int common = shared_moments(*here[i], *here[k]);
      is_side_by_side = is_side_by_side ||
                        (common >= fewest_shared && common * moments.step_s >= shortest_shared_s);
    }
  }
  out.uncertainty_k = largest;
  if (is_side_by_side) {
    out.uncertainty_k = std::hypot(std::sqrt(own_squares) / count, shared);
    out.shared_k = shared;
    out.celsius = series::common_of(spans, moments.n).common;
    return out;
  }
  for (std::size_t t = 0; t < out.celsius.size(); ++t) {
    for (const auto& y : spans) {
      if (!std::isfinite(out.celsius[t])) out.celsius[t] = y[t];
    }
  }
  return out;
}

std::vector<PanelSpot> spots_of(const std::vector<Column>& columns,
                                const series::Moments& moments) {
  std::vector<std::string> places;
  std::vector<PanelSpot> out;
  for (const Column& c : columns) {
    const auto place = place_of(*c.probe);
    if (std::ranges::find(places, place) != places.end()) continue;
    places.push_back(place);
    std::vector<const Column*> here;
    for (const Column& other : columns) {
      if (place_of(*other.probe) == place) here.push_back(&other);
    }
    out.push_back(spot_of(here, moments));
  }
  return out;
}

/// The mean of the channels of a role that is no spot; empty where there is none.
std::vector<double> side_channel(const Burn& burn, Role role, const series::Moments& moments,
                                 std::vector<Trouble>& troubles) {
  auto columns = columns_of(burn, role);
  std::erase_if(columns, [](const Column& c) { return !has_any(c); });
  for (std::size_t i = columns.size(); role != Role::wind && i-- > 0;) {
    if (drop_impossible(columns[i])) drop_column(columns, i, troubles);
  }
  if (columns.empty()) return {};
  std::vector<std::span<const double>> spans;
  for (Column& c : columns) {
    lay_out(c, moments);
    spans.emplace_back(c.celsius);
  }
  return spans.size() == 1 ? columns.front().celsius : series::common_of(spans, moments.n).common;
}

}  // namespace

Panel make_panel(const Burn& burn) {
  Panel panel;
  auto air = columns_of(burn, Role::air);
  for (std::size_t i = air.size(); i-- > 0;) {
    if (drop_impossible(air[i]) || !has_any(air[i])) drop_column(air, i, panel.troubles);
  }
  const series::Moments moments = moments_of(air);
  panel.start_s = moments.start_s;
  panel.step_s = moments.step_s;
  panel.n = moments.n;
  for (Column& c : air) lay_out(c, moments);
  drop_stuck(air, panel.troubles);
  check_missing(burn, air, moments, panel.troubles);
  check_frozen(air, moments, panel.troubles);
  for (auto&& found : jumps_of(air, moments, known_moments(burn))) panel.troubles.push_back(found);
  panel.answers = answers_of(air, moments);
  for (auto&& found : touching_of(panel.answers)) panel.troubles.push_back(found);
  panel.spots = spots_of(air, moments);
  panel.dial = side_channel(burn, Role::dial, moments, panel.troubles);
  panel.outside = side_channel(burn, Role::outside, moments, panel.troubles);
  panel.wind = side_channel(burn, Role::wind, moments, panel.troubles);
  return panel;
}

}  // namespace pitwright::call
