#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "report/call_table.h"
#include "report/degrees.h"
#include "report/text_table.h"
#include "report/text_width.h"
#include "toasted/joined_text.h"
#include "toasted/toast_grid.h"
#include "toasted/toast_view.h"
#include "toasted/toast_words.h"

namespace pitwright::toasted {
namespace {

using report::page_width;

constexpr int label_column = 11;
constexpr double two_sided_95 = 1.959964;

std::string entry(std::string_view label, const std::string& text) {
  std::string block;
  for (const auto& line : report::wrapped(text, page_width - label_column))
    block += report::padded_right(block.empty() ? label : "", label_column) + line + "\n";
  return block;
}

/// "[7] 352 ±6", "[8] shines", "[9] L* 64" where no thermometer tells degrees.
std::string cell_text(const ToastView& view, int index) {
  const auto i = static_cast<std::size_t>(index);
  const auto& map = view.toast.map;
  const auto number = fmt::format("[{}]", index + 1);
  if (map.flaws[i] != browning::Flaw::none)
    return fmt::format("{} {}", number, flaw_word(map.flaws[i]));
  const auto& heat = map.heats[i];
  if (!heat) return fmt::format("{} L* {:.0f}", number, view.toast.seen.slices[i].color.lightness);
  const double reach = TemperatureDelta::from_kelvins(two_sided_95 * heat->sd_k).in(view.scale);
  return fmt::format("{} {} ±{:.0f}", number,
                     report::number_text(degC(heat->mean_c).in(view.scale), 0, false),
                     std::max(reach, 1.0));
}

std::string what_text(const ToastView& view) {
  return view.toast.map.level_c
             ? fmt::format("Heat at each slice, {}", report::scale_mark(view.scale))
             : std::string("Lightness of each slice, L*");
}

std::string grid_text(const ToastView& view, const SliceGrid& grid) {
  std::vector<std::string> labels;
  for (std::size_t r = 0; r < grid.size(); ++r)
    labels.emplace_back(r == 0 ? "back" : r + 1 == grid.size() ? "front" : "·");
  std::vector<report::Column> columns;
  for (std::size_t c = 0; c < grid.front().size(); ++c) {
    report::Column column{c == 0 ? "left" : c + 1 == grid.front().size() ? "right" : "", {}};
    for (const auto& row : grid)
      column.cells.push_back(row[c] ? cell_text(view, *row[c]) : std::string("–"));
    columns.push_back(std::move(column));
  }
  return report::table_text("", labels, columns, page_width);
}

std::string list_text(const ToastView& view) {
  const auto& slices = view.toast.seen.slices;
  const bool inches = view.scale == Scale::fahrenheit;
  const double per_m = inches ? 1.0 / 0.0254 : 100.0;
  std::string text;
  for (std::size_t i = 0; i < slices.size(); ++i)
    text += fmt::format("  {}  at {:.1f}, {:.1f} {} from the left and the door\n",
                        report::padded_right(cell_text(view, static_cast<int>(i)), 16),
                        slices[i].x_m * per_m, slices[i].y_m * per_m, inches ? "in" : "cm");
  return text;
}

std::string range_line(const ToastView& view) {
  const auto& map = view.toast.map;
  const auto shown = [](const browning::Ranged& r) {
    return call::Estimate{r.value, r.low, r.high};
  };
  std::string text;
  if (map.level_c)
    text += entry("Level", report::spoken_reading(shown(*map.level_c), view.scale) +
                               ", mean of the slices that count");
  const auto tilt = [&](std::string_view name, const std::optional<browning::Ranged>& r) {
    if (!r) return;
    const auto s = report::shown_difference(shown(*r), view.scale);
    text += entry(name, fmt::format("{}° ({})", report::number_text(s.value, s.decimals, true),
                                    report::range_text(s)));
  };
  tilt("left-right", map.left_right_k);
  tilt("front-back", map.front_back_k);
  return text;
}

}  // namespace

std::string toast_text(const ToastView& view) {
  const auto& toast = view.toast;
  const auto title = report::clean_name(toast.document.title);
  std::string text = (title.empty() ? std::string("Toast") : title) + "\n\n";
  constexpr int indent = 2;
  for (const auto& line : report::wrapped(toast_sentence(view), page_width - 2 * indent))
    text += "  " + line + "\n";
  text += "\n" +
          entry("Photo", fmt::format("{}, {} x {} pixels; {} slices found, {} count",
                                     report::clean_name(toast.document.photo.filename().string()),
                                     toast.seen.width_px, toast.seen.height_px,
                                     toast.seen.slices.size(), toast.map.used.size()));
  text += entry("Light", light_text(view));
  text += entry("Gray card", card_text(view));
  text += entry("Probes", anchor_text(view));
  for (const auto& sentence : left_out_sentences(view)) text += entry("Left out", sentence);
  for (const auto& sentence : apart_sentences(view)) text += entry("Disagree", sentence);
  text += "\n" + range_line(view) + "\n" + what_text(view) + ", seen from the door\n\n";
  const auto grid = grid_of(toast.seen.slices);
  text += grid ? grid_text(view, *grid) : list_text(view);
  text += "\n";
  constexpr std::string_view legend =
      "Heat is in degrees of air that would brown bread as much; air and radiant heat are summed. "
      "It "
      "is that of this one toasting, at the top of the slices. ± holds 95 %.";
  for (const auto& line : report::wrapped(legend, page_width)) text += line + "\n";
  return text + joined_text(view);
}

}  // namespace pitwright::toasted
