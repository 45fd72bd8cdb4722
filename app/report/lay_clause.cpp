#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "report/call_words.h"
#include "report/change_sets.h"
#include "report/clauses.h"
#include "report/degrees.h"
#include "report/text_width.h"

namespace pitwright::report {
namespace {

using call::Change;
using call::Word;

std::string_view way(call::Axis axis, bool positive) {
  switch (axis) {
    case call::Axis::left_right:
      return positive ? "from left to right" : "from right to left";
    case call::Axis::front_back:
      return positive ? "from front to back" : "from back to front";
    case call::Axis::top_bottom:
      return positive ? "from bottom to top" : "from top to bottom";
  }
  std::unreachable();
}

/// "Against A, B moves the heat 14° from left to right (12 to 16) and ...: clear."
std::string clear_tilts(const CallView& view, int from, int to) {
  std::vector<std::pair<double, std::string>> moves;
  for (const auto& tilt : view.report.tilts) {
    const auto* change = change_between(tilt.tilt, from, to);
    if (change == nullptr || change->word != Word::clear || !change->estimate) continue;
    moves.emplace_back(-std::abs(change->estimate->value),
                       heat_moved(tilt.axis, *change->estimate, view.scale));
  }
  if (moves.empty()) return "";
  std::ranges::sort(moves);
  std::string text;
  for (const auto& [size, move] : moves) text += (text.empty() ? "" : " and ") + move;
  return fmt::format("Against {}, {} moves the heat {}: clear.", spoken_setting(view, from),
                     spoken_setting(view, to), text);
}

/// The spots whose runs changed clearly, largest change first.
std::vector<std::pair<const call::SpotCall*, call::Estimate>> clear_spots(const CallView& view,
                                                                          int from, int to) {
  std::vector<std::pair<const call::SpotCall*, call::Estimate>> found;
  for (const auto& spot : view.report.spots) {
    const auto* change = change_between(spot.runs, from, to);
    if (change == nullptr || change->word != Word::clear || !change->estimate) continue;
    found.emplace_back(&spot, *change->estimate);
  }
  std::ranges::stable_sort(found, std::greater{},
                           [](const auto& entry) { return std::abs(entry.second.value); });
  return found;
}

/// The spot that changed most, told against the whole chamber, and how many more changed.
std::string clear_spots_text(const CallView& view, int from, int to) {
  const auto changed = clear_spots(view, from, to);
  if (changed.empty()) return "";
  const auto& [spot, estimate] = changed.front();
  const auto others = changed.size() - 1;
  const auto tail = others == 0   ? std::string()
                    : others == 1 ? " One more spot changes clearly."
                                  : fmt::format(" {} more spots change clearly.", others);
  return fmt::format("Against the whole chamber, {} runs {} {} at {} than at {}: clear.{}",
                     clean_name(spot->spot), spoken_change(estimate, view.scale),
                     estimate.value > 0 ? "hotter" : "cooler", spoken_setting(view, to),
                     spoken_setting(view, from), tail);
}

/// The lay where nothing is clear.
std::string quiet_lay(const CallView& view, const Changes& tilts, const Changes& runs) {
  const auto lay = joined(tilts, runs);
  if (all_are(lay, Word::no_odds)) {
    return fmt::format("No odds in where the heat lies: nothing bigger than {}.",
                       limit_text(largest_open_k(lay), view.scale));
  }
  const auto needs = needs_text(hardest(lay));
  if (all_are(tilts, Word::no_odds)) {
    return fmt::format("No odds in the tilt: nothing bigger than {}. Single spots {}; {}.",
                       limit_text(largest_open_k(tilts), view.scale),
                       any_is(runs, Word::too_close) ? "are too close to call" : "not yet", needs);
  }
  if (any_is(lay, Word::too_close)) {
    return fmt::format(
        "Too close: some heat moved, but whether it is the {} that matters is open; {}.",
        size_text(view.burn.matters.kelvins(), view.scale), needs);
  }
  return fmt::format("Not yet: whether the heat moved is open; {}.", needs);
}

}  // namespace

std::string heat_moved(call::Axis axis, const call::Estimate& kelvins, Scale scale) {
  const auto shown = shown_difference(kelvins, scale);
  const auto size = shown.value < 0 ? mirrored(shown) : shown;
  return fmt::format("{}° {} ({})", number_text(size.value, size.decimals, false),
                     way(axis, shown.value >= 0), range_text(size));
}

std::string lay_clause(const CallView& view, int from, int to) {
  const auto tilts = tilt_changes(view, from, to);
  const auto runs = run_changes(view, from, to);
  const auto lay = joined(tilts, runs);
  if (lay.empty()) return "";
  auto text = clear_tilts(view, from, to);
  if (text.empty()) text = clear_spots_text(view, from, to);
  const auto muddled = muddled_clause(view, "Where the heat lies is", lay);
  if (!muddled.empty()) return text.empty() ? muddled : text + " " + muddled;
  return text.empty() ? quiet_lay(view, tilts, runs) : text;
}

}  // namespace pitwright::report
