#include "mapped/lay_text.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include <fmt/format.h>

#include "mapped/lay_words.h"
#include "mapped/number_map.h"
#include "mapped/on_grate.h"
#include "report/degrees.h"
#include "report/moments.h"
#include "report/sizes.h"
#include "report/text_width.h"

namespace pitwright::mapped {
namespace {

constexpr int label_column = 10;

/// "<label padded><text>", the text wrapped beside its label.
std::string entry(std::string_view label, const std::string& text, int width = label_column) {
  std::string block;
  for (const auto& line : report::wrapped(text, lay_page_width - width))
    block += report::padded_right(block.empty() ? label : "", width) + line + "\n";
  return block;
}

std::string title_text(const LayView& view) {
  const auto title = report::clean_name(view.call.burn.title);
  auto under = report::clean_name(view.call.burn.pit.name);
  if (under == title) under.clear();
  const auto day = report::day_text(view.call.burn);
  if (!day.empty()) under += (under.empty() ? "" : ", ") + day;
  std::string text;
  for (const auto& line : {title, under})
    if (!line.empty()) text += report::shortened(line, lay_page_width) + "\n";
  return text;
}

std::string map_heading(const LayView& view, const std::string& what, const lay::GrateLay& grate) {
  auto text = what;
  if (view.lay.settings.front().grates.size() > 1) text += ", " + grate_name(grate.grate);
  return report::shortened(text, lay_page_width - 16) + report::padded_left("", 2) +
         "(back at the top)\n";
}

std::string grate_facts(const LayView& view, const lay::GrateLay& grate) {
  const auto scale = view.call.scale;
  const auto& share = grate.within.share;
  return entry("hottest", extreme_text(grate.hottest, scale)) +
         entry("coolest", extreme_text(grate.coolest, scale)) +
         entry("within", fmt::format("{} of the grate ({:.0f} to {:.0f}) lies within {}",
                                     report::share_text(share.value), 100.0 * share.low,
                                     100.0 * share.high, band_text(view, grate.within))) +
         entry("usable", usable_text(view, grate));
}

std::string setting_text(const LayView& view, int setting) {
  const auto s = static_cast<std::size_t>(setting);
  const auto& told = view.lay.settings[s];
  auto text = fmt::format("{}: level {}\n", setting_name(view, setting),
                          report::spoken_reading(told.level_c, view.call.scale));
  for (const auto k : grates_from_top(view.lay)) {
    const auto& grate = told.grates[k];
    text += "\n" + map_heading(view, setting_name(view, setting), grate);
    std::vector<MapNumber> measured;
    for (const auto& spot : spots_on(view.lay, k))
      if (const auto& run = spot->by_setting[s])
        measured.push_back({spot->place.x_m, spot->place.y_m, run->run_k});
    text += number_map(grate, grate.value_k, grate.sd_k, measured, view.band_k, view.call.scale);
    text += grate_facts(view, grate);
  }
  return text;
}

std::string difference_text(const LayView& view, const lay::DifferenceLay& difference) {
  const auto from = static_cast<std::size_t>(difference.from),
             to = static_cast<std::size_t>(difference.to);
  const auto name = setting_name(view, difference.from) + " → " + setting_name(view, difference.to);
  auto text = name + ": " + level_change_text(view, difference.from, difference.to) + "\n";
  for (const auto k : grates_from_top(view.lay)) {
    const auto& grate = view.lay.settings.front().grates[k];
    text += "\n" + map_heading(view, name, grate);
    std::vector<MapNumber> measured;
    for (const auto& spot : spots_on(view.lay, k)) {
      const auto &a = spot->by_setting[from], &b = spot->by_setting[to];
      if (a && b) measured.push_back({spot->place.x_m, spot->place.y_m, b->run_k - a->run_k});
    }
    text += number_map(grate, difference.grates[k].value_k, difference.grates[k].sd_k, measured,
                       view.band_k, view.call.scale);
  }
  return text;
}

/// Maps of the difference of two settings; of more they are left to the picture.
std::string differences_text(const LayView& view) {
  if (view.lay.differences.empty()) return "";
  if (view.lay.settings.size() > 2)
    return "\n" + entry("", "Maps of the differences between settings: --svg FILE or --json.", 0);
  return "\n" + difference_text(view, view.lay.differences.front());
}

std::string next_text(const LayView& view) {
  std::string text;
  int rank = 0;
  for (const auto& next : view.lay.next_spots) {
    auto line = place_text(next.place, view.call.scale);
    if (view.lay.settings.front().grates.size() > 1) line += ", " + grate_name(next.grate);
    line += fmt::format("; takes {} off what is not known", report::share_text(next.variance_fall));
    text += entry(fmt::format("  {}.", ++rank), line, 5);
  }
  return text.empty() ? "" : "\nWhere one more thermometer would tell most\n" + text;
}

std::string asked_text(const LayView& view) {
  std::string text;
  for (const auto& one : view.asked) {
    auto head = place_text(one.place, view.call.scale);
    if (view.lay.settings.front().grates.size() > 1) head += ", " + grate_name(one.grate);
    text += "\nAt " + head + "\n";
    for (const auto& at : one.at) {
      const auto run = report::shown_difference({at.run_k, at.low_k, at.high_k}, view.call.scale);
      text += entry(
          "  " + report::shortened(setting_name(view, at.setting), 7),
          fmt::format("runs {} ({}); air {}", report::number_text(run.value, run.decimals, true),
                      report::range_text(run),
                      report::spoken_reading({at.celsius, at.celsius_low, at.celsius_high},
                                             view.call.scale)));
    }
  }
  return text;
}

std::string dials_text(const LayView& view) {
  std::string text;
  for (std::size_t s = 0; s < view.dials.size(); ++s)
    for (const auto& dial : view.dials[s])
      text += entry("  " + report::shortened(setting_name(view, static_cast<int>(s)), 7),
                    dial_text(dial, view.call.scale));
  return text.empty() ? "" : "\nWhat to dial\n" + text;
}

std::string figures_text(const LayView& view) {
  std::string text, caution;
  for (std::size_t s = 0; s < view.uniformity.size(); ++s) {
    if (!view.uniformity[s]) continue;
    auto label = "  " + report::shortened(setting_name(view, static_cast<int>(s)), 7);
    for (const auto& line : uniformity_lines(*view.uniformity[s], view.call.scale)) {
      text += entry(label, line);
      label.clear();
    }
    caution = uniformity_caution(*view.uniformity[s]);
  }
  if (text.empty()) return "";
  return "\nEvenness by published definitions\n" + text + entry("  ", caution, 2);
}

/// How the map did on spots it was not told of.
std::string left_out_text(const LayView& view) {
  const auto& all = view.lay.leave_one_out;
  if (all.empty()) return "";
  const auto inside = std::ranges::count_if(all, [](const lay::LeftOut& one) {
    return one.measured_k >= one.low_k && one.measured_k <= one.high_k;
  });
  double squares = 0.0;
  for (const auto& one : all) squares += std::pow(one.measured_k - one.predicted_k, 2);
  return fmt::format(
      "Left out one at a time, {} of {} measured runs lay inside their 90 % range; usual miss {}. ",
      inside, all.size(),
      report::size_text(std::sqrt(squares / static_cast<double>(all.size())), view.call.scale));
}

std::string sure_text(const LayView& view) {
  auto text = left_out_text(view);
  text += "In brackets on a map: measured. A dot: not known to within ±" +
          report::size_text(view.band_k, view.call.scale) + " (95 %).";
  for (const auto& note : lay_notes(view)) text += " " + note;
  return "\n" + entry("How sure", text);
}

}  // namespace

std::string lay_text(const LayView& view) {
  auto text = title_text(view) + "\n";
  for (const auto& line : report::wrapped(lay_sentence(view), lay_page_width - 4))
    text += "  " + line + "\n";
  for (int s = 0; s < std::ssize(view.lay.settings); ++s) text += "\n" + setting_text(view, s);
  return text + differences_text(view) + asked_text(view) + dials_text(view) + next_text(view) +
         figures_text(view) + sure_text(view);
}

}  // namespace pitwright::mapped
