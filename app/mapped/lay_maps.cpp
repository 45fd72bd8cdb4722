#include "mapped/lay_maps.h"

#include <algorithm>
#include <functional>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "mapped/lay_words.h"
#include "mapped/on_grate.h"
#include "picture/call_titles.h"
#include "report/degrees.h"
#include "report/sizes.h"
#include "report/text_width.h"

namespace pitwright::mapped {
namespace {

std::vector<double> flat(const lay::Grid& grid) {
  std::vector<double> all;
  for (const auto& row : grid) all.insert(all.end(), row.begin(), row.end());
  return all;
}

using Measured = std::optional<lay::LaySpot::Measured>;

void add_spots(const LayView& view, std::size_t grate, picture::HeatMap& map,
               const std::function<std::optional<double>(const lay::LaySpot&)>& value) {
  for (const auto* spot : spots_on(view.lay, grate))
    if (const auto run = value(*spot))
      map.spots.push_back({report::clean_name(spot->spot), spot->place.x_m, spot->place.y_m, *run});
}

void add_marks(const LayView& view, const lay::GrateLay& grate, picture::HeatMap& map) {
  if (grate.usable) {
    const auto& u = *grate.usable;
    map.marks.push_back({"usable", u.x_low_m, u.x_high_m, u.y_low_m, u.y_high_m});
  }
  if (view.lay.next_spots.empty()) return;
  const auto& next = view.lay.next_spots.front();
  if (next.grate != grate.grate) return;
  map.marks.push_back({"next", next.place.x_m, next.place.x_m, next.place.y_m, next.place.y_m});
}

/// "A", or "(2) rear baffle shut, stack half" where the short head is a number.
std::string full_head(const LayView& view, int setting) {
  const auto name = setting_name(view, setting);
  const auto head = short_head(view, setting);
  return head == name ? name : head + " " + name;
}

picture::LaySheet setting_sheet(const LayView& view, int setting) {
  const auto s = static_cast<std::size_t>(setting);
  const auto& told = view.lay.settings[s];
  picture::LaySheet sheet{full_head(view, setting),
                          "level " + report::spoken_reading(told.level_c, view.call.scale),
                          {}};
  for (const auto k : grates_from_top(view.lay)) {
    const auto& grate = told.grates[k];
    auto map = map_on(grate, grate.value_k, grate.sd_k);
    add_spots(view, k, map, [s](const lay::LaySpot& spot) -> std::optional<double> {
      if (!spot.by_setting[s]) return {};
      return spot.by_setting[s]->run_k;
    });
    add_marks(view, grate, map);
    sheet.grates.push_back(std::move(map));
  }
  return sheet;
}

picture::LaySheet difference_sheet(const LayView& view, const lay::DifferenceLay& difference) {
  const auto from = static_cast<std::size_t>(difference.from),
             to = static_cast<std::size_t>(difference.to);
  picture::LaySheet sheet{
      short_head(view, difference.from) + " → " + short_head(view, difference.to),
      level_change_text(view, difference.from, difference.to),
      {}};
  const auto& grates = view.lay.settings.front().grates;
  for (const auto k : grates_from_top(view.lay)) {
    auto map = map_on(grates[k], difference.grates[k].value_k, difference.grates[k].sd_k);
    add_spots(view, k, map, [&](const lay::LaySpot& spot) -> std::optional<double> {
      const Measured &a = spot.by_setting[from], &b = spot.by_setting[to];
      if (!a || !b) return {};
      return b->run_k - a->run_k;
    });
    sheet.grates.push_back(std::move(map));
  }
  return sheet;
}

/// Of each setting, in a line: how much of the grates lies within the band.
std::vector<std::string> within_notes(const LayView& view, std::size_t settings) {
  std::vector<std::string> notes;
  for (std::size_t s = 0; s < settings; ++s) {
    std::vector<std::string> parts;
    for (const auto k : grates_from_top(view.lay)) {
      const auto& grate = view.lay.settings[s].grates[k];
      parts.push_back(fmt::format("{} of the {}", report::share_text(grate.within.share.value),
                                  grate_name(grate.grate)));
    }
    const auto& within = view.lay.settings[s].grates.front().within;
    notes.push_back(fmt::format("{}: {} within {}.", short_head(view, static_cast<int>(s)),
                                fmt::join(parts, ", "), band_text(view, within)));
  }
  return notes;
}

}  // namespace

picture::HeatMap map_on(const lay::GrateLay& grate, const lay::Grid& value, const lay::Grid& sd) {
  picture::HeatMap map;
  map.grate = report::clean_name(grate.grate);
  map.x0_m = grate.x0_m;
  map.y0_m = grate.y0_m;
  map.width_m = grate.width_m;
  map.depth_m = grate.depth_m;
  map.x_m = grate.x_m;
  map.y_m = grate.y_m;
  map.value_k = flat(value);
  map.sd_k = flat(sd);
  return map;
}

picture::LayPicture picture_of(const LayView& view) {
  picture::LayPicture lay;
  lay.title = "Where the heat lies";
  const auto title = picture::burn_title(view.call);
  lay.under = title + (title.empty() ? "" : " · ") + picture::burn_facts(view.call);
  lay.unit = view.call.scale;
  lay.matters_k = view.band_k;
  lay.unknown_k = view.band_k;
  const auto count = std::min(view.lay.settings.size(), most_settings);
  for (std::size_t s = 0; s < count; ++s)
    lay.settings.push_back(setting_sheet(view, static_cast<int>(s)));
  for (const auto& difference : view.lay.differences) {
    const bool shown = static_cast<std::size_t>(difference.to) < count &&
                       (count < most_settings || difference.from == 0);
    if (shown) lay.differences.push_back(difference_sheet(view, difference));
  }
  lay.sentence = lay_sentence(view);
  lay.usable = "the largest stretch of which all keeps within " +
               band_text(view, view.lay.settings.front().grates.front().within) + ", 90 % sure";
  lay.notes = within_notes(view, count);
  lay.notes.push_back(
      "Numbers: how far each thermometer ran from the level, the mean over the spots. The colors "
      "between them are the likeliest map.");
  if (count < view.lay.settings.size())
    lay.notes.push_back(
        fmt::format("{} more settings are not shown.", view.lay.settings.size() - count));
  return lay;
}

}  // namespace pitwright::mapped
