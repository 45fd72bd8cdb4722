#include "report/clauses.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "report/call_words.h"
#include "report/degrees.h"

namespace pitwright::report {
namespace {

using call::Change;
using call::Word;

std::string dial_text(double celsius, Scale scale) {
  return number_text(Temperature::from_celsius(celsius).in(scale), 0, false) + "°";
}

/// What cooks by the dial were: their times belong to the air, not to the number on the dial.
std::string relabel_text(const CallView& view, int from, int to) {
  const DialMeaning* before = nullptr;
  const DialMeaning* after = nullptr;
  const auto meanings = dial_meanings(view.report);
  for (const auto& meaning : meanings) {
    if (meaning.setting == from) before = &meaning;
    if (meaning.setting == to) after = &meaning;
  }
  if (before == nullptr || after == nullptr) return "";
  const auto air = dial_text(before->air_c.value, view.scale);
  return fmt::format(
      " A cook with {} on the dial at {} was a cook at {} of chamber air; at {}, {} on the dial is "
      "{}. "
      "Write {} beside its times and do not use them for {}.",
      dial_text(before->dial_c, view.scale), spoken_setting(view, from),
      spoken_reading(before->air_c, view.scale), spoken_setting(view, to),
      dial_text(after->dial_c, view.scale), spoken_reading(after->air_c, view.scale), air,
      dial_text(before->dial_c, view.scale));
}

std::string hotter_or_cooler(const Change& change) {
  return change.estimate->value < 0 ? "cooler" : "hotter";
}

}  // namespace

std::string level_clause(const CallView& view, int from, int to) {
  const auto* change = change_between(view.report.level, from, to);
  if (change == nullptr) return "";
  if (change->word == Word::muddled) return "";
  if (change->word == Word::no_odds) {
    return fmt::format("No odds in the level of the whole chamber: nothing bigger than {}.",
                       limit_text(largest_open_k({change}), view.scale));
  }
  if (!change->estimate) return "";
  const auto size = spoken_change(*change->estimate, view.scale);
  const auto side = hotter_or_cooler(*change);
  if (change->word == Word::clear) {
    return fmt::format("The whole chamber runs {} {} at {}: clear.", size, side,
                       spoken_setting(view, to));
  }
  if (change->word == Word::too_close) {
    return fmt::format("The whole chamber runs {} {} at {}: too close to the {} that matters; {}.",
                       size, side, spoken_setting(view, to),
                       size_text(view.burn.matters.kelvins(), view.scale), needs_text(*change));
  }
  if (leans(*change)) {
    return fmt::format("The whole chamber may run {} {} at {}, not yet clear; {}.", size, side,
                       spoken_setting(view, to), needs_text(*change));
  }
  const auto shown = shown_difference(*change->estimate, view.scale);
  return fmt::format("Not yet for the level of the whole chamber, anywhere from {}° to {}°; {}.",
                     number_text(shown.low, shown.decimals, true),
                     number_text(shown.high, shown.decimals, true), needs_text(*change));
}

std::string spread_clause(const CallView& view, int from, int to) {
  const auto* change = change_between(view.report.spread, from, to);
  if (change == nullptr || change->word != Word::clear || !change->estimate) return "";
  const bool less = change->estimate->value < 0;
  return fmt::format("{} is {} even, its spread {} {}: clear.", spoken_setting(view, to),
                     less ? "more" : "less", spoken_change(*change->estimate, view.scale),
                     less ? "smaller" : "bigger");
}

std::string dial_clause(const CallView& view, int from, int to) {
  if (!view.report.dial_gap) return "";
  const auto* change = change_between(*view.report.dial_gap, from, to);
  if (change == nullptr || change->word != Word::clear || !change->estimate) return "";
  const auto* before = estimate_at(*view.report.dial_gap, from);
  const auto* after = estimate_at(*view.report.dial_gap, to);
  const auto gaps = before != nullptr && after != nullptr
                        ? fmt::format(" from {} to {}", offset_text(before->value, view.scale),
                                      offset_text(after->value, view.scale))
                        : std::string();
  return fmt::format("The dial gap goes{}, a change of {}: clear.", gaps,
                     spoken_change(*change->estimate, view.scale)) +
         relabel_text(view, from, to);
}

}  // namespace pitwright::report
