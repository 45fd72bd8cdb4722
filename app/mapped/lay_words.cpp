#include "mapped/lay_words.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/degrees.h"
#include "report/sizes.h"
#include "report/text_width.h"

namespace pitwright::mapped {
namespace {

std::string reading_text(double celsius, Scale scale) {
  return report::number_text(Temperature::from_celsius(celsius).in(scale), 0, false) + "°";
}

std::string where_text(const LayView& view, const lay::GrateLay& grate) {
  return view.lay.settings.front().grates.size() > 1 ? " of the " + grate_name(grate.grate) : "";
}

/// Left or right third, front or back third: words for a place on a grate.
std::string corner_text(const lay::GrateLay& grate, const lay::Place& place) {
  const double x = (place.x_m - grate.x0_m) / grate.width_m;
  const double y = (place.y_m - grate.y0_m) / grate.depth_m;
  constexpr double third = 1.0 / 3.0;
  const std::string side = x < third ? "left" : (x > 2.0 * third ? "right" : "");
  const std::string depth = y < third ? "front" : (y > 2.0 * third ? "back" : "");
  if (side.empty() && depth.empty()) return "middle";
  return side + (side.empty() || depth.empty() ? "" : " ") + depth;
}

/// The grate with the largest extreme in a direction.
const lay::GrateLay& most_extreme(const lay::SettingLay& setting, bool hottest) {
  return *std::ranges::max_element(setting.grates, {}, [&](const lay::GrateLay& grate) {
    return hottest ? grate.hottest.run_k : -grate.coolest.run_k;
  });
}

/// "At A the left back runs hottest (+14°) and the right coolest (−12°)."
std::string setting_clause(const LayView& view, int setting) {
  const auto& told = view.lay.settings[static_cast<std::size_t>(setting)];
  const auto &hot = most_extreme(told, true), &cool = most_extreme(told, false);
  const double between = hot.hottest.run_k - cool.coolest.run_k;
  const auto name = setting_name(view, setting);
  if (between < view.band_k)
    return fmt::format("At {} the map is even: hottest and coolest differ by {}.", name,
                       report::size_text(between, view.call.scale));
  return fmt::format("At {} the {}{} runs hottest ({}) and the {}{} coolest ({}).", name,
                     corner_text(hot, hot.hottest.place), where_text(view, hot),
                     report::offset_text(hot.hottest.run_k, view.call.scale),
                     corner_text(cool, cool.coolest.place), where_text(view, cool),
                     report::offset_text(cool.coolest.run_k, view.call.scale));
}

std::string note_text(const LayView& view, lay::LayNote note) {
  const auto& lay = view.lay;
  switch (note) {
    case lay::LayNote::on_a_line:
      return "All spots lie on one line: across it the map rests on what pits are usually like.";
    case lay::LayNote::shared_place:
      return "Some spots lie at one place.";
    case lay::LayNote::few_spots:
      return "Fewer than four places were measured: between them the map is mostly expectation.";
    case lay::LayNote::no_size:
      return "The pit's width or depth is unknown: the map covers what lies between the spots.";
    case lay::LayNote::no_position: {
      std::vector<std::string> names;
      for (const auto& name : lay.unplaced) names.push_back(report::clean_name(name));
      return fmt::format("In the level but not on the map, for want of a position: {}.",
                         fmt::join(names, ", "));
    }
    case lay::LayNote::height_assumed:
      return "Heights are unknown: all spots are taken to lie on one grate.";
  }
  std::unreachable();
}

std::string dial_note(lay::DialNote note) {
  switch (note) {
    case lay::DialNote::outside_assumed:
      return "outside air is unknown: an ordinary day is assumed";
    case lay::DialNote::one_set_point:
      return "from one set point only";
    case lay::DialNote::far_from_tried:
      return "far from any set point tried";
    case lay::DialNote::today_assumed:
      return "for outside air as in this burn";
  }
  std::unreachable();
}

}  // namespace

std::string band_text(const LayView& view, const lay::Within& within) {
  const auto band = "±" + report::size_text(within.band_k, view.call.scale);
  if (within.around == lay::Within::Around::level) return band + " of the level";
  return band + " of the set point, " + reading_text(within.center_c, view.call.scale);
}

std::string level_change_text(const LayView& view, int from, int to) {
  const auto* change = report::change_between(view.call.report.level, call_setting(view, from),
                                              call_setting(view, to));
  if (change == nullptr || !change->estimate) return "";
  auto shown = report::shown_difference(*change->estimate, view.call.scale);
  return fmt::format("level {}° ({})", report::number_text(shown.value, shown.decimals, true),
                     report::range_text(shown));
}

std::string lay_sentence(const LayView& view) {
  std::string text;
  for (int s = 0; s < std::ssize(view.lay.settings); ++s)
    text += (text.empty() ? "" : " ") + setting_clause(view, s);
  return text;
}

std::string extreme_text(const lay::Extreme& extreme, Scale scale) {
  return fmt::format("{}, about {}; {} that it is within {} of there",
                     report::offset_text(extreme.run_k, scale), place_text(extreme.place, scale),
                     report::chance_text(extreme.chance),
                     report::length_text(extreme.within_m, scale));
}

std::string usable_text(const LayView& view, const lay::GrateLay& grate) {
  const auto scale = view.call.scale;
  if (!grate.usable) return "no stretch is sure to keep within " + band_text(view, grate.within);
  const auto& u = *grate.usable;
  const auto length = [&](double m) { return report::length_text(m, scale); };
  return fmt::format(
      "{} by {}, from {} to {} across and {} to {} deep, {} of the grate; {} that "
      "all of it keeps within {}",
      length(u.x_high_m - u.x_low_m), length(u.y_high_m - u.y_low_m), length(u.x_low_m),
      length(u.x_high_m), length(u.y_low_m), length(u.y_high_m), report::share_text(u.area_share),
      report::chance_text(u.chance), band_text(view, grate.within));
}

std::string dial_text(const DialFor& dial, Scale scale) {
  const auto wanted = reading_text(dial.wanted_c, scale);
  if (!dial.answer) return fmt::format("{} {}: {}", wanted, dial.where, dial.answer.error().what);
  std::vector<std::string> notes;
  const auto& all = dial.answer->notes;
  const bool assumed = std::ranges::find(all, lay::DialNote::outside_assumed) != all.end();
  for (const auto note : all)
    if (!(assumed && note == lay::DialNote::today_assumed)) notes.push_back(dial_note(note));
  auto text = fmt::format("{} {}: dial {}", wanted, dial.where,
                          report::spoken_reading(dial.answer->set_c, scale));
  if (!notes.empty()) text += fmt::format("; {}", fmt::join(notes, ", "));
  return text;
}

std::vector<std::string> lay_notes(const LayView& view) {
  std::vector<std::string> notes;
  for (const auto note : view.lay.notes) notes.push_back(note_text(view, note));
  for (const auto& name : view.lay.uncounted)
    notes.push_back(fmt::format("{} was never counted: it has no map.", report::clean_name(name)));
  return notes;
}

std::vector<std::string> uniformity_lines(const lay::Uniformity& figures, Scale scale) {
  const auto difference = [&](const call::Estimate& kelvins) {
    return report::spoken_change(kelvins, scale);
  };
  std::vector<std::string> lines;
  const auto& iec = figures.iec;
  auto first =
      fmt::format("IEC 60068-3-5: gradient {}, fluctuation up to ±{}", difference(iec.gradient_k),
                  report::size_text(iec.worst_fluctuation_k, scale));
  if (iec.indicated_error_k) first += ", indicated error " + difference(*iec.indicated_error_k);
  lines.push_back(first);
  const auto& ams = figures.ams;
  lines.push_back(fmt::format("AMS2750: furthest reading {} off; {}", difference(ams.worst_k),
                              ams.furnace_class
                                  ? fmt::format("would be class {}", *ams.furnace_class)
                                  : std::string("wider than class 6")));
  const auto& astm = figures.astm;
  lines.push_back(fmt::format(
      "ASTM E145: ±{:.1f} % ({:.1f} to {:.1f}) of the rise over outside; {}{}", astm.percent.value,
      astm.percent.low, astm.percent.high,
      astm.type.empty() ? std::string("wider than all types") : "would be type " + astm.type,
      astm.outside_assumed ? "; outside air assumed" : ""));
  return lines;
}

std::string uniformity_caution(const lay::Uniformity& figures) {
  const std::string text =
      "What these spots would come to by the published definitions; no certificate.";
  if (!figures.fewer_than_nine) return text;
  return text + fmt::format(" The standards ask for nine places or more; this burn had {}.",
                            figures.spots);
}

}  // namespace pitwright::mapped
