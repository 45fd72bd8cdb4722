#include "live/fire.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/expects.h"
#include "report/call_words.h"
#include "report/change_sets.h"
#include "report/degrees.h"
#include "report/trouble_words.h"

namespace pitwright::live {
namespace {

using call::Change;
using call::StintState;
using call::Word;

std::string large_word(const call::Live& live) {
  switch (live.state) {
    case StintState::heating:
      return live.soaked ? "Soaked" : "Heating";
    case StintState::settling:
      return "Settling";
    case StintState::counting:
      if (!report::has_counted_enough(live)) return "Counting";
      [[fallthrough]];
    case StintState::closed:
      return live.change_to ? "Change now" : "Enough";
    case StintState::paused:
      return "Lid";
    case StintState::spoiled:
      return "Spoiled";
  }
  std::unreachable();
}

/// Until the next thing to do, else until the stint has counted enough.
std::optional<double> countdown(const call::Live& live, double now_s) {
  if (live.change_at_s) return std::max(0.0, *live.change_at_s - now_s);
  if (live.state == StintState::counting && live.needed_s > live.counting_s)
    return live.needed_s - live.counting_s;
  return std::nullopt;
}

/// "left-right, A to B: +14° (11 to 17), clear".
std::string told(const report::CallView& view, const std::string& what, const Change& change) {
  auto text = fmt::format("{}, {} to {}", what, report::spoken_setting(view, change.from),
                          report::spoken_setting(view, change.to));
  if (change.estimate) {
    const auto shown = report::shown_difference(*change.estimate, view.scale);
    text += fmt::format(": {}° ({})", report::number_text(shown.value, shown.decimals, true),
                        report::range_text(shown));
  }
  return text + ", " + report::word_cell(change);
}

bool is_open(const Change& change) {
  return change.word == Word::too_close || change.word == Word::not_yet;
}

void sort_in(Fire& fire, const report::CallView& view, const std::string& what,
             const call::Quantity& quantity) {
  for (const auto& change : quantity.changes) {
    if (change.word == Word::clear || change.word == Word::no_odds)
      fire.clear.push_back(told(view, what, change));
    if (is_open(change)) fire.open.push_back(told(view, what, change));
  }
}

/// How many spots are settled: each by itself would drown the rest.
void sort_spots_in(Fire& fire, const call::Report& report) {
  std::ptrdiff_t settled = 0;
  for (const auto& spot : report.spots)
    settled += std::ranges::none_of(spot.runs.changes, is_open) && !spot.runs.changes.empty();
  if (report.spots.empty() || report.spots.front().runs.changes.empty()) return;
  auto& list = settled == std::ssize(report.spots) ? fire.clear : fire.open;
  list.push_back(fmt::format("single spots: {} of {} settled", settled, report.spots.size()));
}

std::optional<int> stints_more(const call::Report& report) {
  int most = 0;
  const auto look_at = [&](const call::Quantity& quantity) {
    for (const auto& change : quantity.changes)
      if (is_open(change)) most = std::max(most, change.needs_stints.value_or(99));
  };
  look_at(report.level);
  for (const auto& tilt : report.tilts) look_at(tilt.tilt);
  if (most == 0 || most > 12) return std::nullopt;
  return most;
}

}  // namespace

Fire fire_of(const report::CallView& view) {
  const auto& report = view.report;
  Fire fire;
  if (report.live) {
    const auto& live = *report.live;
    fire.state = std::string(name_of(live.state));
    fire.word = large_word(live);
    fire.countdown_s = countdown(live, live.as_known_at_s.value_or(view.burn.last_s()));
    fire.next = report::as_sentence(report::live_next_text(view));
    fire.next_at_s = live.change_at_s;
    if (live.change_to) fire.next_setting = report::setting_name(view, *live.change_to);
  } else {
    fire.state = "out";
    fire.word = "Out";
    fire.next = "This fire is over.";
  }
  sort_in(fire, view, "level", report.level);
  for (const auto& tilt : report.tilts)
    sort_in(fire, view, std::string(name_of(tilt.axis)), tilt.tilt);
  sort_in(fire, view, "spread", report.spread);
  if (report.dial_gap) sort_in(fire, view, "dial gap", *report.dial_gap);
  sort_spots_in(fire, report);
  fire.stints_more = stints_more(report);
  return fire;
}

Fire listening_fire() {
  Fire fire;
  fire.state = "waiting";
  fire.word = "Listening";
  fire.next = "Leave it; a few minutes of readings are needed before anything can be said.";
  return fire;
}

Fire waiting_fire(const Burn& burn, const std::string& why) {
  Fire fire;
  fire.state = "waiting";
  fire.word = "Waiting";
  if (burn.probes.empty())
    fire.next = "Say which thermometer sits at which spot.";
  else if (burn.stints.empty())
    fire.next = "Say which setting the pit is at.";
  else if (std::ranges::all_of(burn.probes,
                               [](const Probe& probe) { return probe.readings.seconds.empty(); }))
    fire.next =
        "No reading yet: connect a thermometer, or walk the spots and write down what they show.";
  else
    fire.next = report::as_sentence(why);
  return fire;
}

}  // namespace pitwright::live
