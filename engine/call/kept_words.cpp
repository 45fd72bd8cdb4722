#include "call/kept_words.h"

#include <algorithm>
#include <limits>
#include <tuple>

namespace pitwright::call {
namespace {

bool same(const Trouble& a, const Trouble& b) {
  return std::tie(a.code, a.where, a.stint, a.against) ==
         std::tie(b.code, b.where, b.stint, b.against);
}

/// Index of the trouble among the report's; added where it is not there.
TroubleIndex index_of(const Trouble& trouble, Report& report) {
  const auto found =
      std::ranges::find_if(report.troubles, [&](const Trouble& t) { return same(t, trouble); });
  const auto index = static_cast<TroubleIndex>(found - report.troubles.begin());
  if (found == report.troubles.end()) report.troubles.push_back(trouble);
  return index;
}

const Change* change_between(const Quantity& quantity, int from, int to) {
  const auto found = std::ranges::find_if(
      quantity.changes, [=](const Change& c) { return c.from == from && c.to == to; });
  return found == quantity.changes.end() ? nullptr : &*found;
}

void keep(const Report& at_close, const Quantity* then, Quantity& now, Report& report) {
  for (auto& change : now.changes) {
    change.word = Word::not_yet;
    change.word_low = -std::numeric_limits<double>::infinity();
    change.word_high = std::numeric_limits<double>::infinity();
    change.because.clear();
    const Change* kept = then ? change_between(*then, change.from, change.to) : nullptr;
    if (kept == nullptr) continue;
    change.word = kept->word;
    change.word_low = kept->word_low;
    change.word_high = kept->word_high;
    for (const TroubleIndex i : kept->because)
      change.because.push_back(index_of(at_close.troubles[static_cast<std::size_t>(i)], report));
  }
}

}  // namespace

void keep_words(const Report& at_close, Report& report) {
  keep(at_close, &at_close.level, report.level, report);
  keep(at_close, &at_close.spread, report.spread, report);
  for (auto& spot : report.spots) {
    const auto then = std::ranges::find(at_close.spots, spot.spot, &SpotCall::spot);
    keep(at_close, then == at_close.spots.end() ? nullptr : &then->runs, spot.runs, report);
  }
  for (auto& tilt : report.tilts) {
    const auto then = std::ranges::find(at_close.tilts, tilt.axis, &TiltCall::axis);
    keep(at_close, then == at_close.tilts.end() ? nullptr : &then->tilt, tilt.tilt, report);
  }
  if (report.dial_gap)
    keep(at_close, at_close.dial_gap ? &*at_close.dial_gap : nullptr, *report.dial_gap, report);
}

}  // namespace pitwright::call
