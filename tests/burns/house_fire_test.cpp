#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "burns/open_burn.h"
#include "call/call.h"

// The real burns under examples/, through the same doors as `pitwright call`.
// Source of every expected number: data/fsri_residential_gasburner_2016/PROVENANCE.md, "Facts": raw
// differences of the last 60 s before an event and before the next, drift not removed.

namespace pitwright {
namespace {

constexpr std::array<std::string_view, 3> all_runs{"house-fire", "house-fire-again",
                                                   "house-fire-back-door"};
constexpr double agreement = 1.5;  ///< factor; the facts are raw, the rooms drift

/// The burn of `example`, read once.
const Burn& burn_of(std::string_view example) {
  static std::map<std::string_view, Burn> burns;
  if (const auto known = burns.find(example); known != burns.end()) return known->second;
  auto open = burns::open_burn(std::filesystem::path(PITWRIGHT_SOURCE_DIR) / "examples" / example);
  if (!open) throw std::runtime_error(open.error().what);
  return burns.emplace(example, std::move(open->burn)).first->second;
}

/// The call on it, made once.
const call::Report& report_of(std::string_view example) {
  static std::map<std::string_view, call::Report> reports;
  if (const auto known = reports.find(example); known != reports.end()) return known->second;
  auto report = call::make_call(burn_of(example), {.as_known_at_s = {}, .needs_stints = false});
  if (!report) throw std::runtime_error(report.error().what);
  return reports.emplace(example, *std::move(report)).first->second;
}

/// The change of a spot's own temperature; throws where the call could not give it.
call::Estimate reading_change(const call::Report& report, std::string_view spot, int from, int to) {
  const auto found = std::ranges::find(report.spots, spot, &call::SpotCall::spot);
  if (found == report.spots.end()) throw std::runtime_error("no such spot");
  for (const auto& change : found->reading_changes) {
    if (change.from == from && change.to == to && change.estimate) return *change.estimate;
  }
  throw std::runtime_error("no number for " + std::string(spot));
}

/// The mean of a channel's readings in [from, to).
double mean_between(const Probe& probe, double from_s, double to_s) {
  double sum = 0.0;
  int n = 0;
  for (std::size_t i = 0; i < probe.readings.seconds.size(); ++i) {
    if (probe.readings.seconds[i] < from_s || probe.readings.seconds[i] >= to_s) continue;
    sum += probe.readings.values[i];
    ++n;
  }
  return sum / n;
}

const Probe& probe_at(const Burn& burn, std::string_view spot) {
  return *std::ranges::find(burn.probes, spot, &Probe::spot);
}

struct Fact {
  std::string_view run, spot;
  int from, to;  ///< 0 all shut, 1 the door open, 2 window E open too
  double kelvins;
};

constexpr std::array facts{
    Fact{"house-fire", "bedroom 1 1.2 m", 1, 2, -19.0},
    Fact{"house-fire-again", "bedroom 1 1.2 m", 1, 2, -21.1},
    Fact{"house-fire-back-door", "bedroom 1 1.2 m", 1, 2, -19.5},
    Fact{"house-fire", "bedroom 1 0.02 m", 1, 2, 26.5},
    Fact{"house-fire-again", "bedroom 1 0.02 m", 1, 2, 30.6},
    Fact{"house-fire-back-door", "bedroom 1 0.02 m", 1, 2, 23.4},
    Fact{"house-fire", "living room 1.2 m", 0, 1, -8.7},
    Fact{"house-fire-again", "living room 1.2 m", 0, 1, -10.8},
};

TEST(HouseFire, ReadingChangesAgreeWithThePublishedRunsInSignAndSize) {
  for (const auto& fact : facts) {
    SCOPED_TRACE(std::string(fact.run) + ", " + std::string(fact.spot));
    const auto change = reading_change(report_of(fact.run), fact.spot, fact.from, fact.to);
    const double ratio = change.value / fact.kelvins;
    EXPECT_GT(ratio, 1.0 / agreement) << change.value << " K, fact " << fact.kelvins << " K";
    EXPECT_LT(ratio, agreement) << change.value << " K, fact " << fact.kelvins << " K";
  }
}

TEST(HouseFire, RawDifferencesOfTheLastMinuteReproduceTheFacts) {
  // The facts come from 1 s samples, the derived logs hold every fifth: 1.5 K apart at most.
  for (const auto& fact : facts) {
    SCOPED_TRACE(std::string(fact.run) + ", " + std::string(fact.spot));
    const auto& burn = burn_of(fact.run);
    const auto& probe = probe_at(burn, fact.spot);
    const double from_end = burn.stints.at(static_cast<std::size_t>(fact.from)).to_s;
    const double to_end = burn.stints.at(static_cast<std::size_t>(fact.to)).to_s;
    const double raw =
        mean_between(probe, to_end - 60.0, to_end) - mean_between(probe, from_end - 60.0, from_end);
    EXPECT_NEAR(raw, fact.kelvins, 1.5);
  }
}

TEST(HouseFire, ThrowsOutTheOpenThermocoupleAndNoOther) {
  for (const auto run : all_runs) {
    SCOPED_TRACE(run);
    std::vector<std::string> dead;
    for (const auto& trouble : report_of(run).troubles) {
      if (trouble.code == call::TroubleCode::probe_dead) dead.push_back(trouble.where);
    }
    const bool has_open_one = run != "house-fire-back-door";
    const std::vector<std::string> expected(has_open_one ? 1 : 0,
                                            "Kitchen Temperature 0.02 m Below Ceiling");
    EXPECT_EQ(dead, expected);
    EXPECT_EQ(burn_of(run).probes.size(), 64u);
    EXPECT_EQ(std::ssize(report_of(run).spots), 64 - std::ssize(expected));
  }
}

TEST(HouseFire, MuddlesEveryChangeFromTheStintThatWasStillWarming) {
  for (const auto run : all_runs) {
    SCOPED_TRACE(run);
    const auto& report = report_of(run);
    const auto is_warming_first = [&](const call::Trouble& trouble) {
      return trouble.kind == call::TroubleKind::soak &&
             trouble.code == call::TroubleCode::still_warming &&
             trouble.at_s.value_or(INFINITY) < report.stints.at(1).from_s;
    };
    EXPECT_TRUE(std::ranges::any_of(report.troubles, is_warming_first));
    for (const auto& change : report.level.changes) {
      EXPECT_TRUE(change.from != 0 || change.word == call::Word::muddled);
    }
    for (const auto& spot : report.spots) {
      for (const auto& change : spot.runs.changes) {
        EXPECT_TRUE(change.from != 0 || change.word == call::Word::muddled) << spot.spot;
      }
    }
  }
}

/// Standard error of a mean if its samples were independent: what a textbook would say.
double textbook_error(const Probe& probe, double from_s, double to_s) {
  const double mean = mean_between(probe, from_s, to_s);
  double sum = 0.0;
  int n = 0;
  for (std::size_t i = 0; i < probe.readings.seconds.size(); ++i) {
    if (probe.readings.seconds[i] < from_s || probe.readings.seconds[i] >= to_s) continue;
    sum += (probe.readings.values[i] - mean) * (probe.readings.values[i] - mean);
    ++n;
  }
  return std::sqrt(sum / (n - 1) / n);
}

TEST(HouseFire, ARepeatDiffersFarMoreThanTheTextbookErrorsOfEitherRun) {
  const auto& once = burn_of("house-fire");
  const auto& again = burn_of("house-fire-again");
  std::vector<double> ratios;
  for (const auto& probe : once.probes) {
    if (probe.channel == "Kitchen Temperature 0.02 m Below Ceiling") continue;
    const auto& other = probe_at(again, probe.spot);
    const double end = once.stints.back().to_s;
    const double other_end = again.stints.back().to_s;
    const double error = std::hypot(textbook_error(probe, end - 60.0, end),
                                    textbook_error(other, other_end - 60.0, other_end));
    const double apart =
        mean_between(probe, end - 60.0, end) - mean_between(other, other_end - 60.0, other_end);
    ratios.push_back(std::abs(apart) / error);
  }
  std::ranges::nth_element(ratios, ratios.begin() + std::ssize(ratios) / 2);
  EXPECT_GT(ratios[ratios.size() / 2], 3.0);
}

TEST(HouseFire, OurRangesOfAChangeHoldTheRepeat) {
  // Two runs of one house: the change of every spot is the same but for what the ranges allow.
  int held = 0, all = 0;
  for (const auto& spot : report_of("house-fire").spots) {
    const auto once = reading_change(report_of("house-fire"), spot.spot, 1, 2);
    const auto again = reading_change(report_of("house-fire-again"), spot.spot, 1, 2);
    const double half = 0.5 * std::hypot(once.high - once.low, again.high - again.low);
    held += std::abs(once.value - again.value) <= half ? 1 : 0;
    ++all;
  }
  EXPECT_EQ(all, 63);
  EXPECT_GE(held, 0.95 * all) << held << " of " << all;
}

}  // namespace
}  // namespace pitwright
