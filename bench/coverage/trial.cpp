#include "coverage/trial.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <stdexcept>
#include <utility>

#include "base/expects.h"
#include "call/blocks.h"
#include "call/call.h"
#include "call/panel.h"
#include "call/watch.h"
#include "call/windows.h"
#include "coverage/peers.h"
#include "rehearse/random_pit.h"

namespace pitwright::bench {
namespace {

constexpr double matters_f = 10.0;
// A word is wrong against the truth as the physics gives it; the aim leaves up to this much.
constexpr double aim_slack_f = 0.05;

struct TrueChange {
  Quantity quantity;
  int index;  ///< spot or axis
  double f;
};

/// Looks the truth of a change up by the names the report uses.
class Known {
 public:
  Known(const rehearse::Truth& truth, const std::vector<std::string>& settings)
      : truth_(truth), settings_(settings) {}

  double level(int from, int to) const { return f(to_(to).level_c - to_(from).level_c); }
  double spread(int from, int to) const { return f(to_(to).spread_k - to_(from).spread_k); }
  double dial_gap(int from, int to) const { return f(to_(to).dial_gap_k - to_(from).dial_gap_k); }
  double run(int spot, int from, int to) const {
    return f(to_(to).run_k[index(spot)] - to_(from).run_k[index(spot)]);
  }
  double reading(int spot, int from, int to) const {
    return f(to_(to).spot_c[index(spot)] - to_(from).spot_c[index(spot)]);
  }
  std::optional<double> tilt(int axis, int from, int to) const {
    const auto& a = to_(from).tilt_k[index(axis)];
    const auto& b = to_(to).tilt_k[index(axis)];
    if (!a || !b) return std::nullopt;
    return f(*b - *a);
  }
  int spot(const std::string& name) const {
    const auto found = std::ranges::find(truth_.spots, name);
    return found == truth_.spots.end() ? -1 : static_cast<int>(found - truth_.spots.begin());
  }

 private:
  static double f(double kelvins) { return kelvins * 1.8; }
  static std::size_t index(int i) { return static_cast<std::size_t>(i); }
  const rehearse::SettingTruth& to_(int setting) const {
    return truth_.at(settings_[index(setting)]);
  }
  const rehearse::Truth& truth_;
  const std::vector<std::string>& settings_;
};

void judge_word(const call::Change& change, double truth_f, Words& words) {
  ++words.questions;
  const double size = std::abs(truth_f);
  if (change.word == call::Word::muddled) ++words.muddled;
  if (change.word == call::Word::clear && size <= matters_f - aim_slack_f) ++words.wrong_clear;
  if (change.word == call::Word::no_odds && size >= matters_f + aim_slack_f) ++words.wrong_no_odds;
}

template <typename Visit>
void each_change(const call::Report& report, const Known& known, Visit visit) {
  for (const auto& c : report.level.changes) {
    visit(Quantity::level, -1, c, known.level(c.from, c.to));
  }
  for (const auto& spot : report.spots) {
    const int i = known.spot(spot.spot);
    if (i < 0) continue;  // left out of the level: its run is against spots it is not among
    for (const auto& c : spot.runs.changes) visit(Quantity::run, i, c, known.run(i, c.from, c.to));
    for (const auto& c : spot.reading_changes) {
      visit(Quantity::reading, i, c, known.reading(i, c.from, c.to));
    }
  }
  for (const auto& tilt : report.tilts) {
    const int axis = static_cast<int>(tilt.axis);
    for (const auto& c : tilt.tilt.changes) {
      const auto truth = known.tilt(axis, c.from, c.to);
      if (truth) visit(Quantity::tilt, axis, c, *truth);
    }
  }
  for (const auto& c : report.spread.changes) {
    visit(Quantity::spread, -1, c, known.spread(c.from, c.to));
  }
  if (!report.dial_gap) return;
  for (const auto& c : report.dial_gap->changes) {
    visit(Quantity::dial_gap, -1, c, known.dial_gap(c.from, c.to));
  }
}

void tally(const call::Report& report, const Known& known, Trial& trial) {
  each_change(report, known, [&](Quantity q, int, const call::Change& c, double truth_f) {
    if (c.estimate) {
      trial.ours[static_cast<std::size_t>(q)].add(c.estimate->low * 1.8, c.estimate->high * 1.8,
                                                  truth_f);
    }
    if (q != Quantity::reading) judge_word(c, truth_f, trial.words);
  });
}

/// Truth of a peer's change, and which quantity it belongs to.
std::optional<std::pair<Quantity, double>> peer_truth(const PeerSeries& series,
                                                      const std::vector<int>& spots,
                                                      const std::vector<int>& axes,
                                                      const Known& known, int index, int from,
                                                      int to) {
  if (index == 0) return std::pair(Quantity::level, known.level(from, to));
  if (index < 1 + series.spots) {
    const int spot = spots[static_cast<std::size_t>(index - 1)];
    return std::pair(Quantity::reading, known.reading(spot, from, to));
  }
  if (index < 1 + 2 * series.spots) {
    const int spot = spots[static_cast<std::size_t>(index - 1 - series.spots)];
    return std::pair(Quantity::run, known.run(spot, from, to));
  }
  const auto truth =
      known.tilt(axes[static_cast<std::size_t>(index - 1 - 2 * series.spots)], from, to);
  if (!truth) return std::nullopt;
  return std::pair(Quantity::tilt, *truth);
}

void tally_peers(const Burn& burn, const call::Panel& panel, const call::Windows& windows,
                 const Known& known, Trial& trial) {
  std::vector<int> spots, axes;
  for (const auto& spot : panel.spots) spots.push_back(known.spot(spot.spot));
  const auto tilts = tilt_weights(panel);
  for (int axis = 0; axis < 3; ++axis) {
    if (tilts[static_cast<std::size_t>(axis)]) axes.push_back(axis);
  }
  const PeerSeries series{static_cast<int>(spots.size()), static_cast<int>(axes.size())};
  const auto add = [&](const std::vector<PlainChange>& changes, std::array<Held, quantities>& to) {
    for (const auto& c : changes) {
      const auto truth = peer_truth(series, spots, axes, known, c.series, c.from, c.to);
      if (truth) to[static_cast<std::size_t>(truth->first)].add(c.low, c.high, truth->second);
    }
  };
  add(plain_reference(plain_blocks(burn, panel, windows)), trial.reference);
  add(textbook(burn, panel, windows), trial.textbook);
  const auto shots = snapshots(burn, panel, windows);
  for (int k = 0; k < series.count(); ++k) {
    for (int from = 0; from < shots.rows(); ++from) {
      for (int to = from + 1; to < static_cast<int>(shots.rows()); ++to) {
        const auto truth = peer_truth(series, spots, axes, known, k, from, to);
        const double error = truth ? shots(to, k) - shots(from, k) - truth->second : std::nan("");
        if (std::isfinite(error)) {
          trial.snapshot_errors[static_cast<std::size_t>(truth->first)].push_back(error);
        }
      }
    }
  }
}

/// The truth with level, runs, tilts and spread over the named spots only.
rehearse::Truth truth_over(const rehearse::PitModel& model, const rehearse::Truth& truth,
                           const std::vector<std::string>& names) {
  std::vector<int> spots;
  for (std::size_t i = 0; i < model.spots.size(); ++i) {
    if (std::ranges::find(names, model.spots[i].name) != names.end())
      spots.push_back(static_cast<int>(i));
  }
  return rehearse::over_spots(model, truth, spots);
}

bool is_wrong(const Words& words) {
  return words.wrong_clear > 0 || words.wrong_no_odds > 0;
}

/// One look at a running burn: is it wrong, and what it says (word and joint range by question).
struct Look {
  Words words;
  bool level_clear = false, run_clear = false;
  std::vector<double> said;
  std::vector<int> needs;     ///< by question; 0: nothing promised
  std::vector<char> settled;  ///< by question: clear or no odds
};

Look look_of(const call::Report& report, const Known& known) {
  Look look;
  each_change(report, known, [&](Quantity q, int, const call::Change& c, double truth_f) {
    if (q == Quantity::reading) return;
    judge_word(c, truth_f, look.words);
    look.said.insert(look.said.end(), {static_cast<double>(c.word), c.word_low, c.word_high});
    const bool clear = c.word == call::Word::clear;
    look.needs.push_back(c.needs_stints.value_or(0));
    look.settled.push_back(clear || c.word == call::Word::no_odds ? 1 : 0);
    look.level_clear = look.level_clear || (clear && q == Quantity::level);
    look.run_clear = look.run_clear || (clear && q == Quantity::run);
  });
  return look;
}

/// Looks every minute from a close to the next one, as a watch would, and compares with the close.
void look_each_minute(const Burn& burn, const Known& known, double from_s, double to_s,
                      const Look& close, call::Watch& watch, Trial& trial) {
  for (double now_s = from_s + 60.0; now_s < to_s; now_s += 60.0) {
    const auto started = std::chrono::steady_clock::now();
    const auto report = watch.look(burn, now_s, false);
    trial.look_seconds +=
        std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
    if (!report) continue;
    const auto look = look_of(*report, known);
    ++trial.minute_looks;
    trial.words_moved += !close.said.empty() && look.said != close.said;
    trial.ever_wrong = trial.ever_wrong || is_wrong(look.words);
  }
}

/// Sets what was promised when the fourth stint closed against what came of it.
void check_promises(const std::vector<Look>& closes, Trial& trial) {
  constexpr std::size_t then = 3;
  if (closes.size() <= then + 1) return;
  const auto& needs = closes[then].needs;
  for (std::size_t q = 0; q < needs.size(); ++q) {
    const auto n = static_cast<std::size_t>(needs[q]);
    if (n == 0 || then + n >= closes.size() || q >= closes[then + n].settled.size()) continue;
    ++trial.promised;
    trial.kept += closes[then + n].settled[q];
    if (n < 2) continue;
    ++trial.promised_two;
    trial.kept_early += closes[then + n - 1].settled[q];
  }
}

/// Calls the burn as it was known when each stint closed, and every minute between where asked.
void look_often(const Burn& burn, const Known& known, Looks looks, Trial& trial) {
  call::Watch watch;
  Look close;
  std::vector<Look> closes(1);
  for (std::size_t k = 0; k < burn.stints.size(); ++k) {
    const auto& stint = burn.stints[k];
    if (looks == Looks::minutes)
      look_each_minute(burn, known, stint.from_s, stint.to_s, close, watch, trial);
    if (k == 0) continue;  // one setting: nothing can be said
    const bool promises = k == 3 && burn.stints.size() > 4;
    const auto report =
        call::make_call(burn, {.as_known_at_s = stint.to_s, .needs_stints = promises});
    closes.emplace_back();
    if (!report) continue;
    close = closes.back() = look_of(*report, known);
    trial.ever_wrong = trial.ever_wrong || is_wrong(close.words);
    const int stints = static_cast<int>(k) + 1;
    if (close.level_clear && trial.clear_after_level == 0) trial.clear_after_level = stints;
    if (close.run_clear && trial.clear_after_run == 0) trial.clear_after_run = stints;
  }
  check_promises(closes, trial);
}

}  // namespace

std::string_view name_of(Quantity quantity) {
  switch (quantity) {
    case Quantity::level:
      return "level";
    case Quantity::reading:
      return "readings";
    case Quantity::run:
      return "runs";
    case Quantity::tilt:
      return "tilts";
    case Quantity::spread:
      return "spread";
    case Quantity::dial_gap:
      return "dial gap";
  }
  std::unreachable();
}

void Held::add(double low, double high, double truth) {
  ++given;
  if (low <= truth && truth <= high) ++held;
  half_widths.push_back(0.5 * (high - low));
  misses.push_back(std::abs(truth - 0.5 * (low + high)) / half_widths.back());
}

const std::vector<Design>& designs() {
  static const std::vector<Design> all{
      {"A-B-C 60 min", {"A", "B", "C"}, 3600, {}},
      {"A-B-C-C-B-A 30 min", {"A", "B", "C", "C", "B", "A"}, 1800, {}},
      {"A-B-B-A 45 min", {"A", "B", "B", "A"}, 2700, {}},
      {"A-B-B-A 35 min, no change", {"A", "B", "B", "A"}, 2100, {0.0}},
      {"A-B-B-A 35 min, exactly what matters", {"A", "B", "B", "A"}, 2100, {1.0}},
      {"A-B-B-A-A-B 30 min, 0.8 and 1.2 of it", {"A", "B", "B", "A", "A", "B"}, 1800, {0.8, 1.2}},
      {"8 stints 30 min, twice what matters",
       {"A", "B", "B", "A", "B", "A", "A", "B"},
       1800,
       {2.0}}};
  return all;
}

Trial run_trial(int design, std::uint64_t number, const TrialOptions& options) {
  const auto& chosen = designs()[static_cast<std::size_t>(design)];
  numeric::Random random(number, static_cast<std::uint64_t>(design) + 1);
  rehearse::RandomDesign wanted{.order = chosen.order, .dwell_s = chosen.dwell_s};
  for (const double size : chosen.sizes) wanted.sizes_k.push_back(size * matters_f / 1.8);
  const auto made = rehearse::random_burn(random, wanted);
  const auto burn = rehearse::rehearse(made.model, made.kit, made.plan, number);
  if (!burn) throw std::runtime_error(burn.error().what);

  call::Options final_call;
  final_call.needs_stints = false;
  Trial trial;
  trial.design = design;
  trial.aimed = made.aimed.met;
  const auto started = std::chrono::steady_clock::now();
  const auto report = call::make_call(burn->burn, final_call);
  trial.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
  if (!report) throw std::runtime_error(report.error().what);
  const auto panel = call::make_panel(burn->burn);
  const auto windows = call::find_windows(burn->burn, panel, burn->burn.last_s());
  std::vector<std::string> all, level;
  for (const auto& spot : panel.spots) all.push_back(spot.spot);
  for (const int i : call::find_moments(panel, windows).level_spots) {
    level.push_back(panel.spots[static_cast<std::size_t>(i)].spot);
  }
  trial.spots = static_cast<int>(all.size());
  trial.spots_left_out = static_cast<int>(all.size() - level.size());
  const auto truth = truth_over(made.model, burn->truth, level);
  const Known known(truth, report->settings);
  tally(*report, known, trial);
  const auto peer_truth = truth_over(made.model, burn->truth, all);
  if (options.peers) {
    tally_peers(burn->burn, panel, windows, Known(peer_truth, report->settings), trial);
  }
  if (options.looks != Looks::none) look_often(burn->burn, known, options.looks, trial);
  return trial;
}

}  // namespace pitwright::bench
