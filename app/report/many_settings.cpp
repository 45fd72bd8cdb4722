#include "report/many_settings.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "report/call_words.h"
#include "report/clauses.h"
#include "report/degrees.h"

namespace pitwright::report {
namespace {

using call::Change;
using call::Word;

const Change* between(const call::Quantity& quantity, int a, int b) {
  return change_between(quantity, std::min(a, b), std::max(a, b));
}

/// "A", "A and B", "A, B and C".
std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  return text;
}

Changes lay_among(const CallView& view, const std::vector<int>& settings) {
  Changes found;
  for (const auto& tilt : view.report.tilts) {
    found = joined(std::move(found), changes_among(tilt.tilt, settings));
  }
  for (const auto& spot : view.report.spots) {
    found = joined(std::move(found), changes_among(spot.runs, settings));
  }
  return found;
}

/// Settings sorted by how even they are, in three heaps that the words of the spread make.
struct Evenness {
  int best;
  std::vector<int> equal;  ///< "no odds" against the best and against one another
  std::vector<int> out;    ///< clearly less even than the best
  std::vector<int> open;   ///< neither
};

Evenness sorted_by_spread(const call::Quantity& spread, const std::vector<int>& settings) {
  const auto size = [&](int setting) { return estimate_at(spread, setting)->value; };
  Evenness sorted{*std::ranges::min_element(settings, {}, size), {}, {}, {}};
  for (const int setting : settings) {
    if (setting == sorted.best) continue;
    const auto* change = between(spread, sorted.best, setting);
    const auto no_odds = [&](int other) {
      const auto* pair = between(spread, other, setting);
      return pair != nullptr && pair->word == Word::no_odds;
    };
    if (change != nullptr && change->word == Word::clear && change->estimate) {
      sorted.out.push_back(setting);
    } else if (no_odds(sorted.best) && std::ranges::all_of(sorted.equal, no_odds)) {
      sorted.equal.push_back(setting);
    } else {
      sorted.open.push_back(setting);
    }
  }
  return sorted;
}

/// "A is out: its spread is 28° bigger than B's (24 to 32): clear."
std::string out_text(const CallView& view, const Evenness& sorted) {
  std::vector<std::string> parts;
  for (const int setting : sorted.out) {
    const auto* change = between(view.report.spread, sorted.best, setting);
    parts.push_back(fmt::format(
        "{} is out, its spread {} bigger than at {}", spoken_setting(view, setting),
        spoken_change(*change->estimate, view.scale), spoken_setting(view, sorted.best)));
  }
  return parts.empty() ? "" : listed(parts) + ": clear.";
}

std::string open_text(const CallView& view, const Evenness& sorted) {
  if (sorted.open.empty()) return "";
  Changes open;
  std::vector<std::string> names = {spoken_setting(view, sorted.best)};
  for (const int setting : sorted.open) {
    names.push_back(spoken_setting(view, setting));
    if (const auto* change = between(view.report.spread, sorted.best, setting)) {
      open.push_back(change);
    }
  }
  if (open.empty()) return "";
  const std::string_view word = any_is(open, Word::too_close) ? "too close" : "not yet";
  return fmt::format("Which of {} is most even: {}; {}.", listed(names), word,
                     needs_text(hardest(open)));
}

/// Whether two settings lean opposite ways along the tilt whose change between them is clear.
bool swap_ends(const CallView& view, int a, int b) {
  return std::ranges::any_of(view.report.tilts, [&](const call::TiltCall& tilt) {
    const auto* change = between(tilt.tilt, a, b);
    const auto* one = estimate_at(tilt.tilt, a);
    const auto* two = estimate_at(tilt.tilt, b);
    if (change == nullptr || change->word != Word::clear || one == nullptr || two == nullptr) {
      return false;
    }
    return (one->low > 0 && two->high < 0) || (one->high < 0 && two->low > 0);
  });
}

std::string equal_text(const CallView& view, const Evenness& sorted) {
  if (sorted.equal.empty()) return "";
  auto group = sorted.equal;
  group.push_back(sorted.best);
  std::ranges::sort(group);
  std::vector<std::string> names;
  for (const int setting : group) names.push_back(spoken_setting(view, setting));
  const bool swap = group.size() == 2 && swap_ends(view, group[0], group[1]);
  return fmt::format("{} are equally even{}.", listed(names),
                     swap ? "; they only swap the hot end" : "");
}

}  // namespace

std::string evenness_clause(const CallView& view, const std::vector<int>& settings) {
  const auto& spread = view.report.spread;
  const auto changes = changes_among(spread, settings);
  if (any_is(changes, Word::muddled)) return "";
  if (all_are(changes, Word::no_odds)) {
    return fmt::format("No odds in evenness: no two spreads differ by more than {}.",
                       limit_text(largest_open_k(changes), view.scale));
  }
  std::vector<int> known;
  for (const int setting : settings) {
    if (estimate_at(spread, setting) != nullptr) known.push_back(setting);
  }
  if (known.size() < 2) return "";
  const auto sorted = sorted_by_spread(spread, known);
  if (sorted.equal.empty() && sorted.open.empty()) {
    return fmt::format("{} is the most even. {}", spoken_setting(view, sorted.best),
                       out_text(view, sorted));
  }
  std::string text;
  for (const auto& part :
       {equal_text(view, sorted), out_text(view, sorted), open_text(view, sorted)}) {
    if (!part.empty()) text += (text.empty() ? "" : " ") + part;
  }
  return text;
}

std::string moves_clause(const CallView& view, const std::vector<int>& settings) {
  const auto all = lay_among(view, settings);
  const auto lay = unspoiled(all);
  if (all.size() == lay.size() && all_are(lay, Word::no_odds)) {
    return fmt::format("No odds in where the heat lies: nothing bigger than {}.",
                       limit_text(largest_open_k(lay), view.scale));
  }
  constexpr int told = 3;
  std::vector<std::string> moves;
  for (const auto& tilt : view.report.tilts) {
    for (std::size_t i = 1; i < settings.size(); ++i) {
      const auto* change = change_between(tilt.tilt, settings[i - 1], settings[i]);
      if (change == nullptr || change->word != Word::clear || !change->estimate) continue;
      if (std::ssize(moves) == told) break;
      moves.push_back(fmt::format("{} to {}{} {}", spoken_setting(view, settings[i - 1]),
                                  spoken_setting(view, settings[i]),
                                  moves.empty() ? " moves the heat" : "",
                                  heat_moved(tilt.axis, *change->estimate, view.scale)));
    }
  }
  if (!moves.empty()) return listed(moves) + ": clear.";
  if (any_is(lay, Word::clear)) return "Some spots change clearly; the table shows which.";
  if (lay.empty() || all_are(lay, Word::no_odds)) return "";
  return fmt::format("{} where the heat lies; {}.",
                     any_is(lay, Word::too_close) ? "Too close to call" : "Not yet clear",
                     needs_text(hardest(lay)));
}

std::string levels_clause(const CallView& view, const std::vector<int>& settings) {
  const auto all = changes_among(view.report.level, settings);
  const auto changes = unspoiled(all);
  if (changes.empty()) return "";
  if (all.size() == changes.size() && all_are(changes, Word::no_odds)) {
    return fmt::format("No odds in the level of the whole chamber: nothing bigger than {}.",
                       limit_text(largest_open_k(changes), view.scale));
  }
  std::vector<std::string> moves;
  for (const auto* change : changes) {
    if (change->word != Word::clear || !change->estimate) continue;
    moves.push_back(
        fmt::format("{} {} at {} than at {}", spoken_change(*change->estimate, view.scale),
                    change->estimate->value < 0 ? "cooler" : "hotter",
                    spoken_setting(view, change->to), spoken_setting(view, change->from)));
    if (moves.size() == 2) break;
  }
  if (!moves.empty()) return "The whole chamber runs " + listed(moves) + ": clear.";
  if (all_are(changes, Word::no_odds)) return "";
  const std::string_view word =
      any_is(changes, Word::too_close) ? "Too close to call" : "Not yet clear";
  return fmt::format("{} what the level of the whole chamber does; {}.", word,
                     needs_text(hardest(changes)));
}

}  // namespace pitwright::report
