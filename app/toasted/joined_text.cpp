#include "toasted/joined_text.h"

#include <vector>

#include <fmt/format.h>

#include "mapped/lay_view.h"
#include "mapped/number_map.h"
#include "mapped/on_grate.h"
#include "report/call_table.h"
#include "report/degrees.h"
#include "report/text_width.h"
#include "toasted/joined_words.h"

namespace pitwright::toasted {
namespace {

using report::page_width;

constexpr int label_column = 11;

std::string entry(std::string_view label, const std::string& text) {
  std::string block;
  for (const auto& line : report::wrapped(text, page_width - label_column))
    block += report::padded_right(block.empty() ? label : "", label_column) + line + "\n";
  return block;
}

std::string paragraph(const std::string& text) {
  std::string block;
  for (const auto& line : report::wrapped(text, page_width)) block += line + "\n";
  return block;
}

}  // namespace

std::string joined_text(const ToastView& view) {
  const auto& toast = view.toast;
  if (!toast.joined)
    return toast.not_joined.empty() ? "" : "\n" + entry("Not joined", toast.not_joined);
  const auto& joined = *toast.joined;
  const auto& told = joined.told();
  std::string text =
      fmt::format("\nJoined with the thermometers of the burn: {}, {}, level {}\n\n",
                  report::clean_name(told.setting), mapped::grate_name(joined.alone().grate),
                  report::spoken_reading(told.level_c, view.scale));
  std::vector<mapped::MapNumber> measured;
  for (const auto* spot : mapped::spots_on(joined.lay, static_cast<std::size_t>(joined.grate)))
    if (const auto& run = spot->by_setting[static_cast<std::size_t>(joined.setting)])
      measured.push_back({spot->place.x_m, spot->place.y_m, run->run_k});
  text += mapped::number_map(joined.alone(), joined.map.value_k, joined.map.sd_k, measured,
                             joined.matters_k, view.scale);
  text += "\n" + entry("Hottest", joined_place_text(view, joined.summary.hottest)) +
          entry("Coolest", joined_place_text(view, joined.summary.coolest)) +
          entry("Narrower", narrower_text(view)) + entry("Radiant", disagreement_text(view));
  if (joined.by_order)
    text += entry("Note", "no thermometer sat at a slice: only the order of the shades was read");
  return text + "\n" +
         paragraph(
             "Numbers are the air against the level, the mean over the thermometers; in brackets "
             "as measured. What toast shows beyond the air is told against the rest of the grate: "
             "radiant heat that falls evenly on all of it cannot be seen.");
}

}  // namespace pitwright::toasted
