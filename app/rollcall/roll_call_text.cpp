#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/degrees.h"
#include "report/text_table.h"
#include "report/text_width.h"
#include "rollcall/page.h"
#include "rollcall/roll_call_view.h"

namespace pitwright::rollcall {
namespace {

using report::clean_name;
using report::number_text;
using thermometer::Place;

double in_scale(double kelvins, Scale scale) {
  return TemperatureDelta::from_kelvins(kelvins).in(scale);
}

std::string degrees_text(double celsius, Scale scale) {
  return number_text(Temperature::from_celsius(celsius).in(scale), 1, false) + "°";
}

std::string fixed_text(const thermometer::FixedPoint& point, Scale scale) {
  constexpr double normal_95 = 1.96;
  return fmt::format("{} ±{}", degrees_text(point.celsius, scale),
                     number_text(in_scale(normal_95 * point.standard_k, scale), 1, false));
}

std::string boil_text(const RollCallView& view) {
  const auto& boil = *view.document.boil;
  const auto where = boil.pressure_pa ? fmt::format("under {:.0f} hPa", *boil.pressure_pa / 100.0)
                     : view.scale == Scale::fahrenheit
                         ? fmt::format("at {:.0f} ft in usual weather", *boil.altitude_m / 0.3048)
                         : fmt::format("at {:.0f} m in usual weather", *boil.altitude_m);
  return fmt::format("{}, {}", fixed_text(*view.called.conditions.boil, view.scale), where);
}

bool was_read(const RollCallView& view, Place place) {
  return std::ranges::any_of(view.called.probes, [place](const auto& probe) {
    return probe.at[static_cast<std::size_t>(place)].has_value();
  });
}

/// How far a thermometer read off at a place, "+1.2".
std::string off_text(const thermometer::Checked& probe, Place place, Scale scale) {
  const auto& shown = probe.at[static_cast<std::size_t>(place)];
  return shown ? number_text(-in_scale(shown->add_k, scale), 1, true) : "–";
}

std::string table_of(const RollCallView& view) {
  std::vector<std::string> labels;
  std::vector<report::Column> columns;
  for (const Place place : thermometer::all_places) {
    if (was_read(view, place)) columns.push_back({std::string(name_of(place)), {}});
  }
  report::Column add{
      fmt::format("add at {:.0f}",
                  Temperature::from_celsius(view.called.conditions.used_at_c).in(view.scale)),
      {}},
      verdict{"", {}};
  for (const auto& probe : view.called.probes) {
    labels.push_back("  " + report::shortened(clean_name(probe.name), 18));
    std::size_t column = 0;
    for (const Place place : thermometer::all_places) {
      if (was_read(view, place))
        columns[column++].cells.push_back(off_text(probe, place, view.scale));
    }
    const bool has_add = !probe.correction.points.empty();
    add.cells.push_back(
        has_add ? fmt::format("{} ±{}", number_text(in_scale(probe.add_k, view.scale), 1, true),
                              number_text(in_scale(probe.uncertainty_k, view.scale), 1, false))
                : "–");
    verdict.cells.emplace_back(name_of(probe.verdict));
  }
  columns.push_back(add);
  columns.push_back(verdict);
  return report::table_text(report::scale_mark(view.scale) + " off", labels, columns, page_width);
}

std::string bundle_text(const RollCallView& view, const thermometer::Bundle& bundle) {
  const auto range = [&](double k) { return number_text(in_scale(k, view.scale), 1, false) + "°"; };
  return fmt::format(
      "{} round{} at {}: highest less lowest {} of all as shown, {} of the comparable corrected; "
      "{}",
      bundle.rounds, bundle.rounds == 1 ? "" : "s", degrees_text(bundle.center_c, view.scale),
      range(bundle.raw_range_k), range(bundle.corrected_range_k),
      bundle.is_absolute ? "its middle is known from ice and boil"
                         : "its middle is only what most of them say");
}

std::string paste_text(const RollCallView& view) {
  std::string text = "For burn.toml: all at once, at the top\n\n";
  text += fmt::format("    rollcall = \"{}\"\n\n", file_name(view));
  text += "or probe by probe, under its [[probe]]\n";
  for (const auto& probe : view.called.probes) {
    const auto lines = paste_lines(view, probe);
    if (lines.empty()) continue;
    text += fmt::format("\n    # {}\n", clean_name(probe.name));
    for (const auto& line : lines) text += "    " + line + "\n";
  }
  return text;
}

}  // namespace

std::string roll_call_text(const RollCallView& view) {
  const auto& conditions = view.called.conditions;
  const auto title = clean_name(view.document.title);
  std::string text = (title.empty() ? file_name(view) : title) + "\n";
  const auto date = date_text(view.document.date);
  const auto by = clean_name(view.document.by);
  if (!date.empty() || !by.empty())
    text += date + (date.empty() || by.empty() ? "" : ", ") + by + "\n";
  text += "\n" + indented(sentence(view)) + "\n";
  if (was_read(view, Place::ice)) text += entry("Ice", fixed_text(*conditions.ice, view.scale));
  if (was_read(view, Place::boil) && view.document.boil) text += entry("Boil", boil_text(view));
  for (const auto& bundle : view.called.bundles)
    text += entry(bundle.place == Place::cold ? "Cold" : "Hot", bundle_text(view, bundle));
  text += entry("Accept", number_text(in_scale(conditions.accept_k, view.scale), 1, false) + "°");
  text += "\n" + table_of(view) + "\n";
  bool doubted = false;
  for (const auto& probe : view.called.probes) {
    const auto why = why_text(view, probe);
    if (!why.empty()) text += entry(report::shortened(clean_name(probe.name), 10), why);
    doubted = doubted || !why.empty();
  }
  text +=
      (doubted ? "\n" : "") +
      indented(
          "Off: shown less true; add: what makes it right, ± at 95 %. Uncertainties hold for the "
          "sensor "
          "as it was dipped; a probe in air also sees hot metal and its own stem.");
  text += "\n" + paste_text(view);
  if (!view.document.assumed.empty()) text += "\nAssumed\n";
  for (const auto& line : view.document.assumed) text += bullet(clean_name(line));
  return text;
}

}  // namespace pitwright::rollcall
