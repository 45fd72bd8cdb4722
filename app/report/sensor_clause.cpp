#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "report/change_sets.h"
#include "report/clauses.h"
#include "report/text_width.h"

namespace pitwright::report {
namespace {

using call::Axis;
using call::Word;

std::optional<double> position_of(const Probe& probe, Axis axis) {
  switch (axis) {
    case Axis::left_right:
      return probe.x_m;
    case Axis::front_back:
      return probe.y_m;
    case Axis::top_bottom:
      return probe.z_m;
  }
  std::unreachable();
}

std::optional<double> chamber_size(const Pit& pit, Axis axis) {
  switch (axis) {
    case Axis::left_right:
      return pit.width_m;
    case Axis::front_back:
      return pit.depth_m;
    case Axis::top_bottom:
      return pit.height_m;
  }
  std::unreachable();
}

/// Whether the burn shows that something feeds the fire by the pit's sensor.
bool has_controller(const Burn& burn) {
  return burn.pit.set_point || std::ranges::any_of(burn.probes, [](const Probe& probe) {
           return probe.role == Role::set || probe.role == Role::drive;
         });
}

std::string_view side_name(Axis axis, int side) {
  switch (axis) {
    case Axis::left_right:
      return side > 0 ? "on the right" : "on the left";
    case Axis::front_back:
      return side > 0 ? "at the back" : "at the front";
    case Axis::top_bottom:
      return side > 0 ? "high up" : "low down";
  }
  std::unreachable();
}

/// Which half of the chamber a probe sits in along an axis: +1 right, back or top; -1 the other;
/// 0 near the middle. nullopt where it cannot be told. The middle is the chamber's own, else that
/// of the air probes.
std::optional<int> side_of(const Probe& probe, const Burn& burn, Axis axis) {
  const auto at = position_of(probe, axis);
  if (!at) return {};
  double low = 0.0;
  double high = chamber_size(burn.pit, axis).value_or(0.0);
  if (high <= 0.0) {
    low = high = *at;
    for (const auto& other : burn.probes) {
      const auto there = other.role == Role::air ? position_of(other, axis) : std::nullopt;
      if (there) low = std::min(low, *there), high = std::max(high, *there);
    }
  }
  if (high <= low) return {};
  constexpr double middle_share = 0.05;  // of the chamber, either way
  const double share = (*at - low) / (high - low) - 0.5;
  return std::abs(share) < middle_share ? 0 : share > 0 ? 1 : -1;
}

/// The tilt that moved most; nullptr where none moved for certain ("clear", or "too close": not
/// nothing).
const call::TiltCall* main_tilt(const CallView& view, int from, int to) {
  const call::TiltCall* main = nullptr;
  double largest = 0.0;
  for (const auto& tilt : view.report.tilts) {
    const auto* change = change_between(tilt.tilt, from, to);
    if (change == nullptr || !change->estimate) continue;
    if (change->word != Word::clear && change->word != Word::too_close) continue;
    if (std::abs(change->estimate->value) <= largest) continue;
    largest = std::abs(change->estimate->value);
    main = &tilt;
  }
  return main;
}

bool level_moved(const call::Change& level) {
  switch (level.word) {
    case Word::clear:
    case Word::too_close:
      return level.estimate.has_value();
    case Word::not_yet:
      return leans(level);
    default:
      return false;
  }
}

}  // namespace

std::string sensor_clause(const CallView& view, int from, int to) {
  const auto dial = std::ranges::find(view.burn.probes, Role::dial, &Probe::role);
  const auto* level = change_between(view.report.level, from, to);
  const auto* tilt = main_tilt(view, from, to);
  if (dial == view.burn.probes.end() || level == nullptr || tilt == nullptr) return "";
  if (!level_moved(*level)) return "";

  const auto side = side_of(*dial, view.burn, tilt->axis);
  const bool up = level->estimate->value > 0;
  const std::string_view feeds = up ? "more" : "less";
  const std::string_view fate = up ? "lost" : "gained";
  const auto spot = dial->spot.empty() ? "" : " (" + clean_name(dial->spot) + ")";
  if (!side) {
    if (!has_controller(view.burn)) return "";
    return fmt::format(
        "Perhaps why: if the pit's own sensor{} sits on the side that {} heat, its controller "
        "feeds {}; give its place to know.",
        spot, fate, feeds);
  }
  const double tilt_change = change_between(tilt->tilt, from, to)->estimate->value;
  const bool side_gained = *side * tilt_change > 0;
  if (*side == 0 || side_gained == up) return "";  // the sensor's side does not explain the level
  return fmt::format("{}: the pit's own sensor{} sits {}, the side that {} heat, so {} feeds {}.",
                     level->word == Word::not_yet ? "If so, likely why" : "Likely why", spot,
                     side_name(tilt->axis, *side), fate,
                     has_controller(view.burn) ? "its controller" : "a controller that follows it",
                     feeds);
}

}  // namespace pitwright::report
