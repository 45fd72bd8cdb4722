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

/// "Against A, B moves the heat 14° from left to right (12 to 16) and ...", of the tilts with this
/// word, the largest first; empty where there is none. Of open tilts only those that lean.
std::string tilts_text(const CallView& view, int from, int to, Word word, std::string_view moves) {
  std::vector<std::pair<double, std::string>> told;
  for (const auto& tilt : view.report.tilts) {
    const auto* change = change_between(tilt.tilt, from, to);
    if (change == nullptr || change->word != word || !change->estimate) continue;
    if (word == Word::not_yet && !leans(*change)) continue;
    told.emplace_back(-std::abs(change->estimate->value),
                      heat_moved(tilt.axis, *change->estimate, view.scale));
  }
  if (told.empty()) return "";
  std::ranges::sort(told);
  std::string text;
  for (const auto& [size, move] : told) text += (text.empty() ? "" : " and ") + move;
  return fmt::format("Against {}, {} {} the heat {}", spoken_setting(view, from),
                     spoken_setting(view, to), moves, text);
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
  std::ranges::sort(found, {}, [](const auto& entry) {
    return std::pair(-std::abs(entry.second.value), entry.first);
  });
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

/// The lay where nothing is clear; trouble spoiled none of these changes.
std::string quiet_lay(const CallView& view, int from, int to, const Changes& tilts,
                      const Changes& runs) {
  const auto needs = needs_text(hardest(joined(tilts, runs)));
  const auto matters = size_text(view.burn.matters.kelvins(), view.scale);
  const auto close = tilts_text(view, from, to, Word::too_close, "moves");
  if (!close.empty()) {
    return fmt::format("{}: too close to the {} that matters; {}.", close, matters, needs);
  }
  const auto leaning = tilts_text(view, from, to, Word::not_yet, "may move");
  if (!leaning.empty()) return fmt::format("{}, not yet clear; {}.", leaning, needs);
  if (all_are(tilts, Word::no_odds)) {
    return fmt::format("No odds in the tilt: nothing bigger than {}. {} for some spots; {}.",
                       limit_text(largest_open_k(tilts), view.scale),
                       any_is(runs, Word::too_close) ? "Too close" : "Not yet", needs);
  }
  if (any_is(runs, Word::too_close)) {
    return fmt::format(
        "Too close: some spots changed, but whether by the {} that matters is open; {}.", matters,
        needs);
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
  const auto tilts = unspoiled(tilt_changes(view, from, to));
  const auto runs = unspoiled(run_changes(view, from, to));
  const auto lay = joined(tilts, runs);
  if (lay.empty()) return "";
  const auto clear = tilts_text(view, from, to, Word::clear, "moves");
  if (!clear.empty()) return clear + ": clear.";
  if (any_is(runs, Word::clear)) return clear_spots_text(view, from, to);
  if (!all_are(lay, Word::no_odds)) return quiet_lay(view, from, to, tilts, runs);
  const bool whole =
      lay.size() == tilt_changes(view, from, to).size() + run_changes(view, from, to).size();
  return fmt::format("No odds in {}where the heat lies: nothing bigger than {}.",
                     whole ? "" : "the rest of ", limit_text(largest_open_k(lay), view.scale));
}

}  // namespace pitwright::report
