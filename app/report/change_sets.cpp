#include "report/change_sets.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "base/expects.h"

namespace pitwright::report {

using call::Change;
using call::Word;

bool any_is(const Changes& changes, Word word) {
  return std::ranges::any_of(changes, [&](const Change* change) { return change->word == word; });
}

bool all_are(const Changes& changes, Word word) {
  return !changes.empty() &&
         std::ranges::all_of(changes, [&](const Change* change) { return change->word == word; });
}

Changes unspoiled(const Changes& changes) {
  Changes kept;
  std::ranges::copy_if(changes, std::back_inserter(kept),
                       [](const Change* change) { return change->word != Word::muddled; });
  return kept;
}

Changes changes_among(const call::Quantity& quantity, const std::vector<int>& settings) {
  Changes found;
  for (const auto& change : quantity.changes) {
    if (std::ranges::count(settings, change.from) && std::ranges::count(settings, change.to)) {
      found.push_back(&change);
    }
  }
  return found;
}

Changes joined(Changes first, const Changes& second) {
  first.insert(first.end(), second.begin(), second.end());
  return first;
}

Changes tilt_changes(const CallView& view, int from, int to) {
  Changes found;
  for (const auto& tilt : view.report.tilts) {
    if (const auto* change = change_between(tilt.tilt, from, to)) found.push_back(change);
  }
  return found;
}

Changes run_changes(const CallView& view, int from, int to) {
  Changes found;
  for (const auto& spot : view.report.spots) {
    if (const auto* change = change_between(spot.runs, from, to)) found.push_back(change);
  }
  return found;
}

double largest_open_k(const Changes& changes) {
  double largest = 0.0;
  for (const auto* change : changes) {
    largest = std::max({largest, std::abs(change->word_low), std::abs(change->word_high)});
  }
  return largest;
}

const Change& hardest(const Changes& changes) {
  expects(!changes.empty());
  static constexpr int never = 1000;
  return **std::ranges::max_element(changes, {}, [](const Change* change) {
    const bool open = change->word == Word::too_close || change->word == Word::not_yet;
    return open ? change->needs_stints.value_or(never) : -1;
  });
}

bool leans(const Change& change) {
  if (!change.estimate) return false;
  const auto& [value, low, high] = *change.estimate;
  return std::abs(value) > (high - low) / 4.0;
}

}  // namespace pitwright::report
