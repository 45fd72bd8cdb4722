#include "report/call_explain.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/call_table.h"
#include "report/change_sets.h"
#include "report/degrees.h"
#include "report/moments.h"
#include "report/text_table.h"
#include "report/text_width.h"

namespace pitwright::report {
namespace {

/// Where a probe mostly reads [degC]; 0 without a reading.
double usual_c(const Probe& probe) {
  std::vector<double> good;
  for (const double value : probe.readings.values)
    if (std::isfinite(value)) good.push_back(value);
  if (good.empty()) return 0.0;
  const auto middle = good.begin() + static_cast<std::ptrdiff_t>(good.size() / 2);
  std::ranges::nth_element(good, middle);
  return *middle;
}

std::string date_text(std::chrono::year_month_day date) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

/// "A1 −1.9° (rollcall.toml, 2026-04-30)", or nothing for a probe that is taken as it is.
std::string correction_text(const Probe& probe, Scale scale) {
  const double add_k = correction_k(probe, usual_c(probe));
  const bool has_line = !probe.line.points.empty();
  if (!has_line && add_k == 0.0) return "";
  const auto from = probe.line.from.empty() ? "the burn" : clean_name(probe.line.from);
  return fmt::format(
      "{} {}°{} ({}{})", clean_name(probe.channel),
      number_text(TemperatureDelta::from_kelvins(add_k).in(scale), 1, true),
      has_line
          ? fmt::format(" at {}°",
                        number_text(Temperature::from_celsius(usual_c(probe)).in(scale), 0, false))
          : "",
      from, probe.checked ? ", " + date_text(*probe.checked) : "");
}

/// Which corrections were added to the readings; empty where none was.
std::string corrections_text(const CallView& view) {
  std::vector<std::string> told;
  for (const auto& probe : view.burn.probes) {
    auto text = correction_text(probe, view.scale);
    if (!text.empty() && std::ranges::find(told, text) == told.end()) told.push_back(text);
  }
  if (told.empty()) return "";
  std::string out;
  for (const auto& line :
       wrapped(fmt::format("Added to the readings: {}.", fmt::join(told, "; ")), page_width))
    out += line + "\n";
  return out;
}

/// Who told how far the probe at a spot may be off: "as told in the burn", "by rollcall.toml".
std::string told_by(const Burn& burn, const call::SpotCall& spot) {
  const auto found = std::ranges::find_if(burn.probes, [&](const Probe& probe) {
    return probe.role == Role::air && probe.spot == spot.spot;
  });
  if (found == burn.probes.end() || !uncertainty_k(*found, usual_c(*found))) return "not checked";
  return found->line.from.empty() ? "as told in the burn" : "by " + clean_name(found->line.from);
}

double uncertainty_k(const call::SpotCall& spot) {
  double largest = 0.0;
  for (const auto& setting : spot.runs.by_setting) {
    largest = std::max(largest, setting.probe_uncertainty_k);
  }
  return largest;
}

/// "±4° (nobody checked them)" or, where probes differ, which is which.
std::string thermometer_text(const CallView& view) {
  std::map<std::string, std::vector<std::string>> groups;
  for (const auto& spot : view.report.spots) {
    const double size = TemperatureDelta::from_kelvins(uncertainty_k(spot)).in(view.scale);
    const auto text = fmt::format("±{}° ({})", number_text(size, size < 0.95 ? 1 : 0, false),
                                  told_by(view.burn, spot));
    groups[text].push_back(clean_name(spot.spot));
  }
  std::string text;
  for (const auto& [size, spots] : groups) {
    text += text.empty() ? "" : ", ";
    if (groups.size() == 1) return size;
    constexpr std::size_t named = 3;
    text += size + " at " +
            (spots.size() > named ? fmt::format("{} spots", spots.size())
                                  : fmt::format("{}", fmt::join(spots, ", ")));
  }
  return text;
}

std::string window_text(const Burn& burn, const call::StintCall& stint) {
  if (!stint.counted_from_s || !stint.counted_to_s) return "–";
  return moment_text(burn, *stint.counted_from_s) + " to " + moment_text(burn, *stint.counted_to_s);
}

std::string stint_table(const CallView& view) {
  std::vector<std::string> labels;
  Column setting{"setting", {}}, ran{"ran", {}}, counted{"counted", {}}, left{"left out", {}},
      state{"state", {}};
  for (const auto& stint : view.report.stints) {
    labels.push_back(fmt::format("  {}", stint.index + 1));
    setting.cells.push_back(setting_head(view, stint.setting));
    ran.cells.push_back(moment_text(view.burn, stint.from_s) + " to " +
                        moment_text(view.burn, stint.to_s));
    counted.cells.push_back(window_text(view.burn, stint));
    left.cells.push_back(stint.excluded_s > 0 ? duration_text(stint.excluded_s) : "–");
    state.cells.emplace_back(name_of(stint.state));
  }
  return table_text("stint", labels, {setting, ran, counted, left, state}, page_width);
}

/// Why a stint counts from where it does, told under the table.
std::string stint_reasons(const CallView& view) {
  std::string text;
  for (const auto& stint : view.report.stints) {
    if (stint.why.empty()) continue;
    const auto reason = fmt::format("Stint {}: {}", stint.index + 1, clean_name(stint.why));
    for (const auto& line : wrapped(reason, page_width - 2)) text += "  " + line + "\n";
  }
  return text;
}

/// How long after each lid a spot was back, one column a lid; empty without a lid to compare with.
std::string lid_table(const CallView& view) {
  std::vector<std::string> labels;
  for (const auto& spot : view.report.spots)
    labels.push_back("  " + shortened(clean_name(spot.spot), 22));
  std::vector<Column> columns;
  double within_k = 0.0;
  for (const auto& lid : view.report.lids) {
    if (lid.spots.size() != labels.size()) continue;
    within_k = lid.within_k;
    columns.push_back({"lid at " + moment_text(view.burn, lid.from_s), {}});
    for (const auto& one : lid.spots) {
      auto& cell = columns.back().cells.emplace_back("not seen back");
      if (one.back_s) cell = duration_text(*one.back_s);
      if (one.is_slow) cell += ", slow";
    }
  }
  if (columns.empty()) return "";
  const double within = TemperatureDelta::from_kelvins(within_k).in(view.scale);
  return fmt::format("\nAfter a lid was shut: until a spot was within {}° of where it would be\n",
                     number_text(within, within < 2.5 ? 1 : 0, false)) +
         table_text("spot", labels, columns, page_width);
}

/// Which stints every number at a setting rests on.
std::string rests_text(const CallView& view) {
  std::string text;
  for (int setting = 0; setting < std::ssize(view.report.settings); ++setting) {
    std::vector<int> counted;
    double total_s = 0.0;
    for (const auto& stint : view.report.stints) {
      if (stint.setting != setting || !stint.counted_from_s || !stint.counted_to_s) continue;
      counted.push_back(stint.index + 1);
      total_s += *stint.counted_to_s - *stint.counted_from_s - stint.excluded_s;
    }
    const auto name = setting_name(view, setting);
    text += counted.empty() ? fmt::format("Nothing was counted at {}.\n", name)
                            : fmt::format("Every number at {} rests on stint{} {}, {} counted.\n",
                                          name, counted.size() == 1 ? "" : "s",
                                          fmt::join(counted, ", "), duration_text(total_s));
  }
  return text;
}

/// In inches beside °F, in centimeters beside °C.
std::string length_text(double meters, Scale scale) {
  constexpr double meters_in_inch = 0.0254;  // exact: the international inch
  return scale == Scale::fahrenheit ? fmt::format("{:.0f} in", meters / meters_in_inch)
                                    : fmt::format("{:.0f} cm", 100.0 * meters);
}

std::string swing_table(const CallView& view) {
  if (view.report.swings.empty()) return "";
  std::vector<std::string> labels;
  Column size{"swing", {}}, period{"every", {}};
  for (const auto& [channel, swing] : view.report.swings) {
    labels.push_back("  " + shortened(clean_name(channel), 22));
    size.cells.push_back(size_text(swing.size_k, view.scale));
    period.cells.push_back(swing.period_s ? duration_text(*swing.period_s) : "no steady cycle");
  }
  return "\n" + table_text("channel", labels, {size, period}, page_width);
}

}  // namespace

std::string certainty_text(const CallView& view) {
  std::string text;
  if (!view.report.spots.empty()) {
    text = fmt::format(
        "Values at a setting include each thermometer's own error, {}; in a change it cancels. ",
        thermometer_text(view));
  }
  const auto changes = worded_changes(view.report);
  if (changes.empty()) return text;
  text +=
      "The words are read from wider ranges than those shown: they hold for the whole table "
      "at once and however often you look.";
  if (std::ranges::any_of(changes, &call::Change::borrowed)) {
    text +=
        " No setting was repeated, so how exactly a setting comes back is borrowed from "
        "general experience; a repeat would measure it.";
  }
  return text;
}

std::string explain_text(const CallView& view) {
  auto text = "How do you know?\n\n" + stint_table(view) + stint_reasons(view) + rests_text(view) +
              corrections_text(view) + lid_table(view) + swing_table(view);
  const auto words = word_range_table(view);
  if (!words.empty()) text += "\nThe ranges that the words are read from\n" + words;
  const auto readings = reading_table(view);
  if (!readings.empty()) {
    text += "\nChange of each spot's own reading; what the whole chamber did is in it\n" + readings;
  }
  if (!view.report.tilts.empty()) text += "\n";
  for (const auto& tilt : view.report.tilts) {
    text += fmt::format("The {} tilt is the slope over the {} between the outermost spots.\n",
                        name_of(tilt.axis), length_text(tilt.extent_m, view.scale));
  }
  if (!view.report.explain.empty()) {
    text +=
        fmt::format("\nThe engine's account, in minutes since the first sample and degrees {}\n",
                    view.burn.scale == Scale::celsius ? "Celsius" : "Fahrenheit");
  }
  for (const auto& told : view.report.explain) {
    for (const auto& line : wrapped(clean_name(told), page_width)) text += line + "\n";
  }
  return text;
}

}  // namespace pitwright::report
