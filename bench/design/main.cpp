#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/core.h>

#include "base/expects.h"
#include "call/call.h"
#include "call/tables.h"
#include "design/resolve.h"
#include "numeric/random.h"
#include "rehearse/random_pit.h"

// design_check [BURNS [FIRST]]: what plans foretell against what the call says of made-up burns on
// random pits. Prints the scales that posteriors leave (the usual pit of engine/design/habits.cpp),
// half-widths and the words where the true change is 0 and twice what matters.
namespace {

using namespace pitwright;

constexpr double matters_k = 10.0 / 1.8;
constexpr double f_deg_per_k = 1.8;
constexpr double random_pits_lag_s = 180.0;  // the middle one of what calls find on them

double at(std::vector<double> values, double share) {
  expects(!values.empty());
  std::ranges::sort(values);
  return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

struct Trial {
  std::string_view name;
  std::vector<int> order;
  double dwell_s;
  double size;  ///< of the true change, in units of matters; negative: drawn
};

/// One question's calls over all burns.
struct Told {
  std::vector<double> half_k;
  int asked = 0, clear = 0, no_odds = 0, muddled = 0;
  void add(const call::Change& change, bool counts) {
    half_k.push_back(0.5 * (change.estimate->high - change.estimate->low));
    if (!counts) return;
    ++asked;
    clear += change.word == call::Word::clear ? 1 : 0;
    no_odds += change.word == call::Word::no_odds ? 1 : 0;
    muddled += change.word == call::Word::muddled ? 1 : 0;
  }
};

struct Pooled {
  std::vector<call::Scales> level, spot, tilt;
};

void print_scales(std::string_view name, const std::vector<call::Scales>& law) {
  constexpr std::pair<std::string_view, double call::Scales::*> parts[] = {
      {"drift", &call::Scales::drift},
      {"noise", &call::Scales::noise},
      {"re-setting", &call::Scales::resetting}};
  constexpr double half_t4_median = 0.7407;  // Student's t with 4 degrees, upper quartile; R's qt
  for (const auto& [part, member] : parts) {
    std::vector<double> values;
    for (const auto& s : law) values.push_back(s.*member);
    fmt::print("  {:<6} {:<10} quartiles {:.2f} {:.2f} {:.2f} K, half-t4 scale {:.2f} K\n", name,
               part, at(values, 0.25), at(values, 0.5), at(values, 0.75),
               at(values, 0.5) / half_t4_median);
  }
}

/// Which spot was given exactly the aimed change; -1 where changes were drawn.
int aimed_spot(const rehearse::RandomBurn& made, double size_k) {
  for (std::size_t i = 0; i < made.targets[0].run_k.size(); ++i)
    if (std::abs(std::abs(made.targets[1].run_k[i] - made.targets[0].run_k[i]) - size_k) < 1e-6)
      return static_cast<int>(i);
  return -1;
}

void print_line(std::string_view name, const Told& told, const design::Resolution& planned,
                bool twice) {
  const double actual = at(told.half_k, 0.5);
  fmt::print("  {:<6} half-width {:.1f} degF called, {:.1f} planned ({:.2f})", name,
             actual * f_deg_per_k, planned.half_width_k * f_deg_per_k,
             planned.half_width_k / actual);
  if (told.asked > 0) {
    const auto& chances = planned.chances[twice ? 2 : 0];
    const double share = static_cast<double>(twice ? told.clear : told.no_odds) / told.asked;
    fmt::print(";  {} {:.0f} % called (+-{:.0f}), {:.0f} % planned", twice ? "clear" : "no odds",
               100.0 * share, 100.0 * std::sqrt(share * (1.0 - share) / told.asked),
               100.0 * (twice ? chances.clear : chances.no_odds));
    fmt::print(", muddled {:.0f} %", 100.0 * told.muddled / told.asked);
  }
  fmt::print("\n");
}

void run(const Trial& trial, int burns, std::uint64_t first, Pooled* pooled) {
  rehearse::RandomDesign wanted{.order = {}, .dwell_s = trial.dwell_s, .sizes_k = {}};
  for (const int s : trial.order) wanted.order.emplace_back(s == 0 ? "A" : "B");
  if (trial.size >= 0.0) wanted.sizes_k = {trial.size * matters_k};
  Told level, run, tilt;
  for (int k = 0; k < burns; ++k) {
    const auto number = first + static_cast<std::uint64_t>(k);
    numeric::Random random(number, 77);
    const auto made = rehearse::random_burn(random, wanted);
    const auto burn = rehearse::rehearse(made.model, made.kit, made.plan, number);
    expects(burn.has_value());
    const auto report = call::make_call(burn->burn, {.as_known_at_s = {}, .needs_stints = false});
    expects(report.has_value());
    const int aimed = trial.size >= 0.0 ? aimed_spot(made, trial.size * matters_k) : -1;
    level.add(report->level.changes[0], trial.size >= 0.0);
    for (const auto& spot : report->spots)
      run.add(spot.runs.changes[0],
              aimed >= 0 && spot.spot == made.model.spots[static_cast<std::size_t>(aimed)].name);
    for (const auto& one : report->tilts) tilt.add(one.tilt.changes[0], false);
    if (pooled == nullptr) continue;
    const auto habits = *design::learned_habits(burn->burn);
    pooled->level.insert(pooled->level.end(), habits.level.begin(), habits.level.end());
    pooled->spot.insert(pooled->spot.end(), habits.spot.begin(), habits.spot.end());
    for (const auto& law : habits.tilt)
      pooled->tilt.insert(pooled->tilt.end(), law.begin(), law.end());
  }
  auto habits = design::assumed_habits(std::nullopt);
  habits.lag_s = random_pits_lag_s;
  const design::Outlook outlook({trial.order, trial.dwell_s, false}, habits, matters_k);
  fmt::print("{}, {} burns\n", trial.name, burns);
  const bool twice = trial.size > 0.0;
  print_line(
      "level", level,
      outlook.resolve({habits.level, 1.0, design::planned_level_priors(habits), 1, matters_k}),
      twice);
  print_line(
      "run", run,
      outlook.resolve({habits.spot, std::sqrt(5.0 / 6.0), {call::lay_priors(1.0)}, 6, matters_k}),
      twice);
  print_line("tilt", tilt,
             outlook.resolve({habits.tilt[0], 1.2, {call::tilt_priors(1.2)}, 1, matters_k}), twice);
}

}  // namespace

int main(int argc, char** argv) {
  const int burns = argc > 1 ? std::stoi(argv[1]) : 200;
  const std::uint64_t first = argc > 2 ? std::stoull(argv[2]) : 0;
  Pooled drawn, twice;
  run({"A B B A 45 min", {0, 1, 1, 0}, 2700, -1.0}, burns, first, &drawn);
  run({"A B B A 35 min, no change", {0, 1, 1, 0}, 2100, 0.0}, burns, first, nullptr);
  run({"A B B A 35 min, twice what matters", {0, 1, 1, 0}, 2100, 2.0}, burns, first, nullptr);
  run({"A B B A A B 30 min, no change", {0, 1, 1, 0, 0, 1}, 1800, 0.0}, burns, first, nullptr);
  run({"A B B A B A A B 30 min, twice what matters", {0, 1, 1, 0, 1, 0, 0, 1}, 1800, 2.0}, burns,
      first, &twice);
  const auto print = [](std::string_view of, const Pooled& pooled) {
    fmt::print("scales left by the posteriors of {}\n", of);
    print_scales("level", pooled.level);
    print_scales("spot", pooled.spot);
    print_scales("tilt", pooled.tilt);
  };
  print("A B B A 45 min", drawn);
  print("A B B A B A A B 30 min, twice what matters", twice);
  return 0;
}
