#include "toasted/joined_picture.h"

#include <fmt/format.h>

#include "mapped/lay_maps.h"
#include "mapped/on_grate.h"
#include "report/degrees.h"
#include "report/text_width.h"
#include "toasted/joined_words.h"

namespace pitwright::toasted {

picture::LayPicture joined_picture(const ToastView& view) {
  const auto& joined = *view.toast.joined;
  const auto& told = joined.told();
  auto map = mapped::map_on(joined.alone(), joined.map.value_k, joined.map.sd_k);
  for (const auto* spot : mapped::spots_on(joined.lay, static_cast<std::size_t>(joined.grate)))
    if (const auto& run = spot->by_setting[static_cast<std::size_t>(joined.setting)])
      map.spots.push_back(
          {report::clean_name(spot->spot), spot->place.x_m, spot->place.y_m, run->run_k});
  picture::LayPicture page;
  page.title = "Toast and thermometers on one map";
  page.under = fmt::format("{} · {} slices that count · {} thermometers on this grate",
                           report::clean_name(view.toast.document.title),
                           view.toast.map.used.size(), map.spots.size());
  page.sentence = joined_sentence(view);
  page.unit = view.scale;
  page.matters_k = page.unknown_k = joined.matters_k;
  page.settings.push_back({report::clean_name(told.setting),
                           "air, level " + report::spoken_reading(told.level_c, view.scale),
                           {std::move(map)}});
  page.differences.push_back(
      {"toast less air",
       "what bread got beyond the air there",
       {mapped::map_on(joined.alone(), joined.map.radiant_k, joined.map.radiant_sd_k)}});
  page.difference_words = {"bread got less", "bread got more"};
  page.notes = {
      "Numbers: how far each thermometer ran from the level, the mean over the spots. The colors "
      "between them are the likeliest map by thermometers and toast together.",
      "Toast less air is told against the rest of the grate: radiant heat that falls evenly on all "
      "of it cannot be seen."};
  return page;
}

}  // namespace pitwright::toasted
