#include "sheet/facts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <string_view>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/degrees.h"
#include "report/moments.h"
#include "report/sizes.h"
#include "report/text_width.h"

namespace pitwright::sheet {
namespace {

double counted_s(const call::StintCall& stint) {
  if (!stint.counted_from_s || !stint.counted_to_s) return 0.0;
  return std::max(0.0, *stint.counted_to_s - *stint.counted_from_s - stint.excluded_s);
}

std::string times(int count) {
  return count == 1 ? "once" : count == 2 ? "twice" : fmt::format("{} times", count);
}

std::string order_text(const SheetView& view) {
  std::vector<std::string> order;
  for (const auto& stint : view.report.stints) {
    auto name = report::spoken_setting(view.call(), stint.setting);
    if (counted_s(stint) <= 0.0) name += " (not counted)";
    order.push_back(std::move(name));
  }
  return order.empty() ? "no stint" : fmt::format("{}", fmt::join(order, ", "));
}

std::string counted_text(const SheetView& view) {
  double least = HUGE_VAL, most = 0.0;
  for (const auto& stint : view.report.stints) {
    const double counted = counted_s(stint);
    if (counted <= 0.0) continue;
    least = std::min(least, counted);
    most = std::max(most, counted);
  }
  if (most <= 0.0) return "nothing";
  return report::duration_range_text(least, most) +
         " of each stint; settling after a change, and open lids, left out";
}

/// "tray home": the positions that make a setting, where the burn tells them.
std::string adjustments_of(const Burn& burn, const std::string& setting) {
  const auto stint = std::ranges::find(burn.stints, setting, &Stint::setting);
  if (stint == burn.stints.end()) return "";
  std::vector<std::string> parts;
  for (const auto& [name, position] : stint->adjustments)
    parts.push_back(report::clean_name(name + " " + position));
  return fmt::format("{}", fmt::join(parts, ", "));
}

/// "tray (home, one inch left)".
std::string movable_text(const Pit& pit) {
  std::vector<std::string> parts;
  for (const auto& one : pit.adjustments)
    parts.push_back(report::clean_name(
        one.positions.empty()
            ? one.name
            : fmt::format("{} ({})", one.name,
                          fmt::join(one.positions, one.is_span ? " to " : ", "))));
  return fmt::format("{}", fmt::join(parts, "; "));
}

std::string settings_text(const SheetView& view) {
  std::vector<std::string> parts;
  for (int k = 0; k < std::ssize(view.report.settings); ++k) {
    auto text = report::spoken_setting(view.call(), k);
    const auto what = adjustments_of(view.burn, view.report.settings[static_cast<std::size_t>(k)]);
    if (!what.empty() && what != text) text += ": " + what;
    parts.push_back(std::move(text));
  }
  auto text = fmt::format("{}", fmt::join(parts, "; "));
  const bool told = std::ranges::any_of(
      view.burn.stints, [](const Stint& stint) { return !stint.adjustments.empty(); });
  if (!told && !view.burn.pit.adjustments.empty())
    text += ". Can be moved: " + movable_text(view.burn.pit);
  return text;
}

std::string size_text(const SheetView& view) {
  const auto& pit = view.burn.pit;
  if (!pit.width_m || !pit.depth_m) return "";
  const auto length = [&](double m) { return report::length_text(m, view.scale); };
  auto text = fmt::format("{} wide, {} deep", length(*pit.width_m), length(*pit.depth_m));
  if (pit.height_m) text += fmt::format(", {} high", length(*pit.height_m));
  return text + " inside";
}

/// "±4°, never checked", "±1°, checked 2026-04-30"; one entry a probe of the air.
std::map<std::string, std::vector<std::string>> checks_of(const SheetView& view) {
  std::map<std::string, std::vector<std::string>> groups;
  for (const auto& spot : view.report.spots) {
    double size_k = 0.0;
    for (const auto& setting : spot.runs.by_setting)
      size_k = std::max(size_k, setting.probe_uncertainty_k);
    const double size = TemperatureDelta::from_kelvins(size_k).in(view.scale);
    auto text = fmt::format("±{}°", report::number_text(size, size < 0.95 ? 1 : 0, false));
    const auto probe = std::ranges::find_if(view.burn.probes, [&](const Probe& one) {
      return one.role == Role::air && one.spot == spot.spot;
    });
    const bool found = probe != view.burn.probes.end();
    const auto date = found && probe->checked ? probe->checked
                      : found                 ? probe->line.checked
                                              : std::nullopt;
    if (date)
      text += fmt::format(", checked {:04}-{:02}-{:02}", static_cast<int>(date->year()),
                          static_cast<unsigned>(date->month()), static_cast<unsigned>(date->day()));
    else
      text += found && (probe->uncertainty || !probe->line.points.empty()) ? ", as told, no date"
                                                                           : ", not checked";
    groups[text].push_back(report::clean_name(spot.spot));
  }
  return groups;
}

std::string checks_text(const SheetView& view) {
  const auto groups = checks_of(view);
  std::vector<std::string> parts;
  for (const auto& [text, spots] : groups)
    parts.push_back(groups.size() == 1 ? "each " + text
                                       : fmt::format("{}: {}", fmt::join(spots, ", "), text));
  return fmt::format("{}. In a change from setting to setting this error cancels.",
                     fmt::join(parts, "; "));
}

struct Span {
  double low = HUGE_VAL, high = -HUGE_VAL;
  bool known() const { return low <= high; }
};

/// What a role read while the stints ran.
Span span_of(const SheetView& view, Role role) {
  Span span;
  if (view.burn.stints.empty()) return span;
  const double from = view.burn.stints.front().from_s, to = view.burn.stints.back().to_s;
  for (const auto& probe : view.burn.probes) {
    if (probe.role != role) continue;
    for (std::size_t k = 0; k < probe.readings.seconds.size(); ++k) {
      double value = probe.readings.values[k];
      if (!std::isfinite(value) || probe.readings.seconds[k] < from ||
          probe.readings.seconds[k] > to)
        continue;
      if (role != Role::wind) value += correction_k(probe, value);
      span = {std::min(span.low, value), std::max(span.high, value)};
    }
  }
  return span;
}

std::string to_text(double low, double high, std::string_view unit) {
  const auto a = report::number_text(low, 0, false), b = report::number_text(high, 0, false);
  return a == b ? fmt::format("{}{}", a, unit) : fmt::format("{} to {}{}", a, b, unit);
}

std::string wind_text(const SheetView& view) {
  const auto wind = span_of(view, Role::wind);
  if (!wind.known()) return "";
  constexpr double km_in_mile = 1.609344;  // exact: the international mile
  const bool miles = view.scale == Scale::fahrenheit;
  const double per = miles ? km_in_mile : 1.0;
  return "wind " + to_text(wind.low / per, wind.high / per, miles ? " mph" : " km/h");
}

std::string counted_events(const SheetView& view) {
  std::vector<std::string> parts;
  constexpr std::array<std::pair<EventKind, std::string_view>, 5> kinds = {
      {{EventKind::lid, "lid opened"},
       {EventKind::split, "split put on"},
       {EventKind::fuel, "fuel added"},
       {EventKind::gust, "gust marked"},
       {EventKind::rain, "rain marked"}}};
  for (const auto& [kind, words] : kinds) {
    const auto count = std::ranges::count(view.burn.events, kind, &Event::kind);
    if (count > 0) parts.push_back(fmt::format("{} {}", words, times(static_cast<int>(count))));
  }
  return parts.empty() ? "none marked" : fmt::format("{}", fmt::join(parts, ", "));
}

std::string weather_text(const SheetView& view) {
  std::vector<std::string> parts;
  for (const auto& part : {outside_text(view), wind_text(view)})
    if (!part.empty()) parts.push_back(part);
  return parts.empty() ? "not recorded" : fmt::format("{}", fmt::join(parts, ", "));
}

std::string when_text(const SheetView& view) {
  const double from = view.burn.first_s(), to = view.burn.last_s();
  const auto day = report::day_text(view.burn);
  return fmt::format("{}{} to {} ({})", day.empty() ? "" : day + ", ",
                     report::moment_text(view.burn, from), report::moment_text(view.burn, to),
                     report::duration_text(to - from));
}

std::string soaked_text(const SheetView& view) {
  if (view.report.soaked_at_s) return report::moment_text(view.burn, *view.report.soaked_at_s);
  return "cannot be told from the readings";
}

std::string swing_text(const SheetView& view) {
  const auto& swing = view.report.swing;
  if (!(swing.size_k > 0.0)) return "none seen";
  const auto size = report::size_text(swing.size_k, view.scale) + " peak to trough";
  return swing.period_s ? size + ", every " + report::duration_text(*swing.period_s)
                        : size + ", no steady cycle";
}

std::string food_text(const SheetView& view) {
  const bool probed =
      std::ranges::find(view.burn.probes, Role::food, &Probe::role) != view.burn.probes.end();
  if (view.burn.pieces.empty() && !probed) return "no food in the chamber, as far as recorded";
  return fmt::format("{} piece{} in the chamber", view.burn.pieces.size(),
                     view.burn.pieces.size() == 1 ? "" : "s");
}

}  // namespace

std::string repeats_text(const SheetView& view) {
  std::vector<std::string> parts;
  for (int k = 0; k < std::ssize(view.report.settings); ++k) {
    const auto count = std::ranges::count_if(view.report.stints, [k](const auto& stint) {
      return stint.setting == k && counted_s(stint) > 0.0;
    });
    parts.push_back(fmt::format("{} {}", report::spoken_setting(view.call(), k),
                                count == 0 ? "never" : times(static_cast<int>(count))));
  }
  return fmt::format("{}", fmt::join(parts, ", "));
}

std::string thermometers_text(const SheetView& view) {
  std::set<std::string> grates;
  bool dial = false;
  for (const auto& probe : view.burn.probes) {
    if (probe.role == Role::air && !probe.grate.empty()) grates.insert(probe.grate);
    dial = dial || probe.role == Role::dial;
  }
  const auto spots = view.report.spots.size();
  auto text = fmt::format("{} spot{}", spots, spots == 1 ? "" : "s");
  if (grates.size() > 1) text += fmt::format(" on {} grates", grates.size());
  return dial ? text + " and the pit's own dial" : text;
}

std::string outside_text(const SheetView& view) {
  const auto outside = span_of(view, Role::outside);
  if (!outside.known()) return "";
  const auto on_page = [&](double c) { return Temperature::from_celsius(c).in(view.scale); };
  return "outside " + to_text(on_page(outside.low), on_page(outside.high), "°");
}

std::string cooker_text(const SheetView& view) {
  auto text = report::clean_name(view.options.cooker);
  const auto pit = report::clean_name(view.burn.pit.name);
  if (!pit.empty()) text = text.empty() ? pit : pit + ", " + text;
  return text;
}

std::string heading_text(const SheetView& view) {
  const auto title = report::clean_name(view.burn.title);
  if (!title.empty()) return title;
  std::vector<std::string> names;
  for (int k = 0; k < std::ssize(view.report.settings); ++k)
    names.push_back(report::spoken_setting(view.call(), k));
  if (names.empty()) return "A cooker measured";
  if (names.size() == 1) return fmt::format("{} measured", names.front());
  const auto last = names.back();
  names.pop_back();
  return fmt::format("{} and {} compared", fmt::join(names, ", "), last);
}

std::vector<Fact> facts_of(const SheetView& view) {
  std::vector<Fact> facts;
  const auto add = [&](std::string label, std::string text) {
    if (!text.empty()) facts.push_back({std::move(label), std::move(text)});
  };
  const auto cooker = cooker_text(view);
  add("Cooker", cooker.empty() ? "kind not told" : cooker);
  add("Chamber", size_text(view));
  add("When", when_text(view));
  if (view.options.telling.place) add("Time zone", view.burn.clock.timezone);
  add("Settings", settings_text(view));
  add("Order", order_text(view));
  add("Repeats", repeats_text(view));
  add("Counted", counted_text(view));
  add("Thermometers", thermometers_text(view));
  add("Their error", checks_text(view));
  add("Weather", weather_text(view));
  add("Marked", counted_events(view));
  add("Soaked", soaked_text(view));
  add("Swing", swing_text(view));
  add("Matters", report::size_text(view.burn.matters.kelvins(), view.scale) +
                     " or more, the smallest difference the cook would act on");
  add("Food", food_text(view));
  return facts;
}

}  // namespace pitwright::sheet
