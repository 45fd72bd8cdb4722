#include "call/trust.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include "call/second_look.h"
#include "call/swaps.h"
#include "call/weather.h"
#include "call/words.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

/// Chance that the second looks of a burn muddle anything without cause, over all their tests.
constexpr double second_look_error = 0.02;
/// Share of what matters that must still be to come of a warm-up before it spoils a comparison;
/// less is within what the model's drift explains.
constexpr double material_rest = 0.5;

bool contains(const std::vector<int>& values, int value) {
  return std::ranges::find(values, value) != values.end();
}

void muddle(Change& change, TroubleIndex because) {
  change.word = Word::muddled;
  change.needs_stints.reset();
  if (!contains(change.because, because)) change.because.push_back(because);
}

void for_every_quantity(Report& report, const std::function<void(Quantity&)>& act) {
  act(report.level);
  for (auto& spot : report.spots) act(spot.runs);
  for (auto& tilt : report.tilts) act(tilt.tilt);
  act(report.spread);
  if (report.dial_gap) act(*report.dial_gap);
}

/// Muddles every change that has one of the settings on one side, or that compares both.
void muddle_all(Report& report, const std::function<bool(const Change&)>& concerned,
                TroubleIndex because) {
  for_every_quantity(report, [&](Quantity& quantity) {
    for (auto& change : quantity.changes)
      if (concerned(change)) muddle(change, because);
  });
}

TroubleIndex add(Report& report, Trouble trouble) {
  report.troubles.push_back(std::move(trouble));
  return static_cast<TroubleIndex>(report.troubles.size()) - 1;
}

bool is_about(const Trouble& trouble, const StintCall& stint) {
  return trouble.stint == stint.index;
}

/// Stints that heated while they were counted, and a running one that is heating still: what is
/// asked of its setting waits for the soak, not for more stints, unless another stint answers.
void check_soak(const Evidence& evidence, Report& report) {
  std::set<int> counted;
  for (const auto& block : evidence.now.blocks) counted.insert(block.setting);
  for (const auto& stint : evidence.windows.stints) {
    if (stint.state == StintState::spoiled) continue;
    if (!stint.counted_from_s && counted.contains(stint.setting)) continue;
    TroubleIndex because = -1;
    for (int i = 0; i < std::ssize(report.troubles); ++i) {
      const auto& trouble = report.troubles[static_cast<std::size_t>(i)];
      if (trouble.code == TroubleCode::still_warming && is_about(trouble, stint) &&
          !(trouble.amount <= material_rest * evidence.matters_k))  // NaN: nobody knows
        because = i;
    }
    if (because < 0) continue;
    muddle_all(
        report, [&](const Change& c) { return c.from == stint.setting || c.to == stint.setting; },
        because);
  }
}

void check_weather(const Burn& burn, const Evidence& evidence, Report& report) {
  const auto& names = report.settings;
  for (const auto& change : report.level.changes) {
    const auto moved =
        weather_against_order(burn, evidence.panel, evidence.now.blocks, change.from, change.to);
    if (!moved) continue;
    const auto because =
        add(report, {TroubleKind::weather, TroubleCode::weather_changed,
                     moved->channel + ": " + names[static_cast<std::size_t>(change.from)] + " to " +
                         names[static_cast<std::size_t>(change.to)],
                     std::nullopt, moved->amount});
    const int from = change.from, to = change.to;
    muddle_all(
        report, [=](const Change& c) { return c.from == from && c.to == to; }, because);
  }
  const auto front = front_set_off(burn, evidence.panel, evidence.now.blocks,
                                   static_cast<int>(report.settings.size()));
  if (front)
    add(report, {TroubleKind::weather, TroubleCode::weather_balanced, front->channel, front->at_s,
                 front->amount, std::nullopt, "", front->between_settings});
}

/// One quantity's changes under a second look. `closed` carries its words.
void look_again(const Evidence& evidence, const Measured& closed, const std::string& what,
                int comparisons, double error, Quantity& quantity, Report& report) {
  for (auto& change : quantity.changes) {
    if (change.word == Word::muddled) continue;
    const double word_error = sidak(look_error(evidence.closed_stints), comparisons);
    const auto word_without = [&](const SecondLook& look) {
      return word_of(numeric::central_interval(look.without, word_error), evidence.matters_k);
    };
    const auto stretch = deciding_stretch(evidence.closed, closed, change.from, change.to,
                                          evidence.matters_k, error);
    if (stretch && word_without(*stretch) != change.word) {
      Trouble trouble{
          TroubleKind::order, TroubleCode::one_stint_decides, what, {}, stretch->moved_k};
      for (const auto& block : evidence.closed.blocks)
        if (!trouble.stint && block.stretch == stretch->stretch) trouble.stint = block.stint;
      if (trouble.stint)
        trouble.at_s = evidence.windows.stints[static_cast<std::size_t>(*trouble.stint)].from_s;
      muddle(change, add(report, std::move(trouble)));
      continue;
    }
    const auto halves = disagreeing_halves(evidence.closed, closed, change.from, change.to,
                                           evidence.matters_k, error);
    if (halves)
      muddle(change, add(report, {TroubleKind::order, TroubleCode::halves_disagree, what,
                                  std::nullopt, halves->moved_k}));
  }
}

void check_second_looks(const Evidence& evidence, Report& report) {
  const auto& closed = evidence.closed;
  if (closed.empty()) return;
  const int pairs = static_cast<int>(report.level.changes.size());
  if (pairs == 0) return;
  const int series = static_cast<int>(1 + report.spots.size() + report.tilts.size());
  const int stints = static_cast<int>(report.stints.size());
  const double error = sidak(second_look_error, std::max(1, series * pairs * (stints + 1)));
  look_again(evidence, closed.level, "level", pairs, error, report.level, report);
  for (std::size_t i = 0; i < report.spots.size(); ++i)
    look_again(evidence, closed.runs[i], report.spots[i].spot,
               pairs * static_cast<int>(report.spots.size()), error, report.spots[i].runs, report);
  for (std::size_t i = 0; i < report.tilts.size(); ++i)
    look_again(evidence, closed.tilts[i], std::string(name_of(report.tilts[i].axis)), pairs, error,
               report.tilts[i].tilt, report);
  if (report.dial_gap && closed.dial_gap)
    look_again(evidence, *closed.dial_gap, "dial", pairs, error, *report.dial_gap, report);
}

/// The level spot whose run changed out of line with all the others: more than eight robust sds of
/// theirs from their median and three times what matters. Empty for fewer than four spots.
struct Strange {
  int spot;
  double change_k;
};
std::optional<Strange> strangest(const Evidence& evidence, const Report& report,
                                 std::size_t change) {
  constexpr double far_sds = 8.0, far_matters = 3.0, least_sd_k = 0.3;
  const auto& spots = evidence.moments.level_spots;
  if (spots.size() < 4) return std::nullopt;
  std::optional<Strange> found;
  for (const int i : spots) {
    std::vector<double> others;
    for (const int j : spots) {
      const auto& e = report.spots[static_cast<std::size_t>(j)].runs.changes[change].estimate;
      if (j != i && e) others.push_back(e->value);
    }
    const auto& own = report.spots[static_cast<std::size_t>(i)].runs.changes[change].estimate;
    if (!own || others.size() < 3) continue;
    const double away = own->value - series::median(others);
    if (std::abs(away) > far_sds * std::max(least_sd_k, series::robust_sd(others)) &&
        std::abs(away) > far_matters * evidence.matters_k)
      found = Strange{i, own->value};
  }
  return found;
}

void check_strangest_probe(const Evidence& evidence, Report& report) {
  const double n = static_cast<double>(evidence.moments.level_spots.size());
  for (std::size_t k = 0; k < report.level.changes.size(); ++k) {
    auto& change = report.level.changes[k];
    if (!change.estimate || change.word == Word::muddled) continue;
    const auto strange = strangest(evidence, report, k);
    if (!strange) continue;
    const double moved = -strange->change_k / (n - 1.0);  // of the level without this spot
    const auto without =
        word_of({change.word_low + moved, change.word_high + moved}, evidence.matters_k);
    if (without == change.word) continue;
    const auto& spot = evidence.panel.spots[static_cast<std::size_t>(strange->spot)];
    muddle(change, add(report, {TroubleKind::probe, TroubleCode::one_probe_decides, spot.channel,
                                std::nullopt, moved}));
  }
}

void check_probes(const Evidence& evidence, Report& report) {
  for (int i = 0; i < std::ssize(report.troubles); ++i) {
    const auto trouble = report.troubles[static_cast<std::size_t>(i)];
    if (trouble.code != TroubleCode::probe_touching && trouble.code != TroubleCode::probe_jump)
      continue;
    for (std::size_t k = 0; k < report.spots.size(); ++k) {
      const auto& spot = evidence.panel.spots[k];
      if (trouble.where != spot.channel && trouble.where != spot.spot) continue;
      for (auto& change : report.spots[k].runs.changes) muddle(change, i);
      // Where no other spot is left the suspect one makes the level: then nothing stands.
      if (contains(evidence.moments.level_spots, static_cast<int>(k)))
        muddle_all(
            report, [](const Change&) { return true; }, i);
    }
  }
}

void check_spoiled(const Evidence& evidence, Report& report) {
  std::set<int> counted;
  for (const auto& block : evidence.now.blocks) counted.insert(block.setting);
  for (const auto& stint : evidence.windows.stints) {
    if (stint.state != StintState::spoiled || counted.contains(stint.setting)) continue;
    TroubleIndex because = -1;
    for (int i = 0; i < std::ssize(report.troubles); ++i) {
      const auto& trouble = report.troubles[static_cast<std::size_t>(i)];
      if (trouble.code == TroubleCode::stint_spoiled && is_about(trouble, stint)) because = i;
    }
    if (because < 0)
      because = add(report, {TroubleKind::lid, TroubleCode::stint_spoiled,
                             report.settings[static_cast<std::size_t>(stint.setting)], stint.from_s,
                             0.0, stint.index});
    muddle_all(
        report, [&](const Change& c) { return c.from == stint.setting || c.to == stint.setting; },
        because);
  }
}

/// A quantity at a setting of which one lid's slow spots spoil all there is.
void muddle_spoiled(const SpoilingLids& lids, const Evidence& evidence, Quantity& quantity,
                    const Report& report) {
  for (auto& change : quantity.changes)
    for (const int setting : {change.from, change.to}) {
      const auto s = static_cast<std::size_t>(setting);
      if (s >= lids.size() || lids[s] < 0) continue;
      const auto& lid = evidence.windows.lids[static_cast<std::size_t>(lids[s])];
      for (int i = 0; i < std::ssize(report.troubles); ++i) {
        const auto& trouble = report.troubles[static_cast<std::size_t>(i)];
        if (trouble.code == TroubleCode::lid_one_sided && trouble.at_s == lid.from_s)
          muddle(change, i);
      }
    }
}

void check_slow_spots(const Evidence& evidence, Report& report) {
  const auto& spoiling = evidence.now.spoiling;
  if (evidence.now.empty()) return;
  muddle_spoiled(spoiling.level, evidence, report.level, report);
  for (std::size_t i = 0; i < report.spots.size(); ++i)
    muddle_spoiled(spoiling.runs[i], evidence, report.spots[i].runs, report);
  for (std::size_t i = 0; i < report.tilts.size(); ++i)
    muddle_spoiled(spoiling.tilts[i], evidence, report.tilts[i].tilt, report);
  muddle_spoiled(spoiling.spread, evidence, report.spread, report);
  if (report.dial_gap) muddle_spoiled(spoiling.dial_gap, evidence, *report.dial_gap, report);
}

/// Said where it could matter to a call; means over whole swings hardly feel it, so nothing is
/// muddled by it.
void say_clocks(const Burn& burn, const Evidence& evidence, Report& report) {
  constexpr double plainly_much_s = 30.0, share_of_swing = 1.0 / 8.0;
  const auto period_s = evidence.windows.swing.period_s;
  const double u = burn.clock_uncertainty_s;
  if (u <= plainly_much_s && !(period_s && u > share_of_swing * *period_s)) return;
  add(report, {TroubleKind::clock, TroubleCode::clocks_uncertain, "", std::nullopt, u});
}

void say_order(const Evidence& evidence, Report& report) {
  const auto& changes = report.level.changes;
  const bool any =
      std::ranges::any_of(changes, [](const Change& c) { return c.estimate.has_value(); });
  if (any && !evidence.now.empty() && changes.front().borrowed)
    add(report, {TroubleKind::order, TroubleCode::order_confounded, "", std::nullopt, 0.0});
}

}  // namespace

void apply_trust(const Burn& burn, const Evidence& evidence, Report& report) {
  check_probes(evidence, report);
  check_spoiled(evidence, report);
  check_slow_spots(evidence, report);
  check_soak(evidence, report);
  check_weather(burn, evidence, report);
  check_strangest_probe(evidence, report);
  check_second_looks(evidence, report);
  say_order(evidence, report);
  say_clocks(burn, evidence, report);
  for (auto&& found : probe_offsets(burn, evidence.panel, evidence.windows))
    add(report, std::move(found));
}

}  // namespace pitwright::call
