#include "scenarios/days.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <stdexcept>

#include <fmt/format.h>

#include "call/call.h"
#include "report/sentence.h"

namespace pitwright::scenarios {
namespace {

using call::Word;

constexpr double f_per_k = 1.8;

int index_of(const call::Report& report, const std::string& setting) {
  const auto at = std::ranges::find(report.settings, setting);
  if (at == report.settings.end()) throw std::runtime_error("no setting " + setting);
  return static_cast<int>(at - report.settings.begin());
}

/// The true changes of every question, over the spots that made the level of this call.
struct TrueChanges {
  const Day& day;
  std::vector<int> level_spots;  ///< of the model

  /// Which spots made the level stands in the call's own account of itself.
  static std::vector<int> spots_of_level(const Day& day) {
    std::vector<int> spots;
    for (const auto& line : day.report.explain) {
      if (!line.starts_with("level: mean of")) continue;
      const auto names = line.substr(line.find("stint: ") + 7);
      const auto& all = day.made.truth.spots;
      for (std::size_t i = 0; i < all.size(); ++i)
        if ((", " + names + ",").find(", " + all[i] + ",") != std::string::npos)
          spots.push_back(static_cast<int>(i));
      break;
    }
    return spots;
  }

  double level(const std::string& setting) const {
    double sum = 0.0;
    for (const int i : level_spots)
      sum += day.made.truth.at(setting).spot_c[static_cast<std::size_t>(i)];
    return sum / static_cast<double>(level_spots.size());
  }

  double run(const std::string& setting, std::size_t spot) const {
    return day.made.truth.at(setting).spot_c[spot] - level(setting);
  }

  double spread(const std::string& setting) const {
    double low = INFINITY, high = -INFINITY;
    for (const int i : level_spots) {
      const double r = run(setting, static_cast<std::size_t>(i));
      low = std::min(low, r);
      high = std::max(high, r);
    }
    return high - low;
  }

  double dial_gap(const std::string& setting) const {
    return day.made.truth.at(setting).dial_c - level(setting);
  }

  /// Least-squares slope of the runs of the level spots on a coordinate, times the extent.
  double tilt(const std::string& setting, call::Axis axis) const {
    std::vector<double> at, runs;
    for (const int i : level_spots) {
      const auto& name = day.made.truth.spots[static_cast<std::size_t>(i)];
      const auto probe = std::ranges::find_if(day.made.burn.probes, [&](const Probe& p) {
        return p.role == Role::air && p.spot == name;
      });
      const auto x = axis == call::Axis::left_right   ? probe->x_m
                     : axis == call::Axis::front_back ? probe->y_m
                                                      : probe->z_m;
      at.push_back(x.value_or(0.0));
      runs.push_back(run(setting, static_cast<std::size_t>(i)));
    }
    double mean = 0.0;
    for (const double x : at) mean += x / static_cast<double>(at.size());
    double xy = 0.0, xx = 0.0;
    for (std::size_t i = 0; i < at.size(); ++i) {
      xy += (at[i] - mean) * runs[i];
      xx += (at[i] - mean) * (at[i] - mean);
    }
    const auto [low, high] = std::ranges::minmax(at);
    return xx > 0.0 ? xy / xx * (high - low) : 0.0;
  }
};

void judge_words(const Day& day, const std::string& name, const call::Quantity& quantity,
                 const std::function<double(const std::string&)>& truth,
                 std::vector<std::string>& wrong) {
  const double matters = day.made.burn.matters.kelvins();
  for (const auto& change : quantity.changes) {
    const auto& from = day.report.settings[static_cast<std::size_t>(change.from)];
    const auto& to = day.report.settings[static_cast<std::size_t>(change.to)];
    const double real = truth(to) - truth(from);
    const bool other_sign = change.estimate && change.estimate->value * real < 0.0;
    const bool is_wrong =
        (change.word == Word::clear && (std::abs(real) <= matters || other_sign)) ||
        (change.word == Word::no_odds && std::abs(real) >= matters);
    if (!is_wrong) continue;
    wrong.push_back(fmt::format("seed {}: {} {} to {}: '{}' where the truth is {:+.1f} F", day.seed,
                                name, from, to, name_of(change.word), real * f_per_k));
  }
}

void judge_day(const Day& day, std::vector<std::string>& wrong) {
  const TrueChanges real{day, TrueChanges::spots_of_level(day)};
  if (real.level_spots.empty())
    throw std::runtime_error("the call does not say what made its level");
  const auto look = [&](const std::string& name, const auto& truth) {
    judge_words(day, name, question(day.report, name), truth, wrong);
  };
  using Name = const std::string&;
  look("level", [&](Name s) { return real.level(s); });
  look("spread", [&](Name s) { return real.spread(s); });
  if (day.report.dial_gap) look("dial gap", [&](Name s) { return real.dial_gap(s); });
  for (const auto& tilt : day.report.tilts)
    look(std::string(name_of(tilt.axis)), [&](Name s) { return real.tilt(s, tilt.axis); });
  const auto& spots = day.made.truth.spots;
  for (std::size_t i = 0; i < spots.size(); ++i)
    look(spots[i], [&](Name s) { return real.run(s, i); });
}

}  // namespace

rehearse::Scenario scenario(std::string_view id, const std::vector<std::string>& order) {
  auto made = rehearse::make_scenario(id);
  if (!made) throw std::runtime_error(made.error().what);
  const double dwell_s = made->plan.stints.front().dwell_s;
  if (!order.empty()) made->plan.stints.clear();
  for (const auto& setting : order) made->plan.stints.push_back({setting, dwell_s});
  return *made;
}

std::vector<Day> days_of(const rehearse::Scenario& scenario) {
  std::vector<Day> days;
  for (int seed = 1; seed <= day_count; ++seed) {
    auto made = rehearse::rehearse(scenario, static_cast<std::uint64_t>(seed), {seed == 1});
    if (!made) throw std::runtime_error(made.error().what);
    if (seed > 1) made->truth = days.front().made.truth;
    auto report = call::make_call(made->burn, {.as_known_at_s = {}, .needs_stints = false});
    if (!report) throw std::runtime_error(report.error().what);
    days.push_back({seed, std::move(*made), std::move(*report)});
  }
  return days;
}

const call::Quantity& question(const call::Report& report, const std::string& name) {
  if (name == "level") return report.level;
  if (name == "spread") return report.spread;
  if (name == "dial gap" && report.dial_gap) return *report.dial_gap;
  for (const auto& tilt : report.tilts)
    if (name_of(tilt.axis) == name) return tilt.tilt;
  for (const auto& spot : report.spots)
    if (spot.spot == name) return spot.runs;
  throw std::runtime_error("no question " + name);
}

const call::Change& change_of(const Day& day, const std::string& name, const std::string& from,
                              const std::string& to) {
  const int a = index_of(day.report, from), b = index_of(day.report, to);
  for (const auto& change : question(day.report, name).changes)
    if (change.from == a && change.to == b) return change;
  throw std::runtime_error("no change " + from + " to " + to);
}

int distance(Word a, Word b) {
  if (a == b) return 0;
  if (a == Word::muddled || b == Word::muddled) return 2;
  const auto place = [](Word word) {
    return word == Word::clear ? 0 : word == Word::too_close ? 1 : word == Word::not_yet ? 2 : 3;
  };
  const int low = std::min(place(a), place(b)), high = std::max(place(a), place(b));
  return high - low == 1 || (low == 1 && high == 3) ? 1 : 2;
}

int days_near(const std::vector<Day>& days, const std::string& name, const std::string& from,
              const std::string& to, Word word) {
  return static_cast<int>(std::ranges::count_if(days, [&](const Day& day) {
    return distance(change_of(day, name, from, to).word, word) <= 1;
  }));
}

std::vector<std::string> wrong_words(const std::vector<Day>& days) {
  std::vector<std::string> wrong;
  for (const auto& day : days) judge_day(day, wrong);
  return wrong;
}

double mean_change_f(const std::vector<Day>& days, const std::string& name, const std::string& from,
                     const std::string& to) {
  double sum = 0.0;
  for (const auto& day : days) sum += change_of(day, name, from, to).estimate.value().value;
  return sum / static_cast<double>(days.size()) * f_per_k;
}

int days_covering(const std::vector<Day>& days, const std::string& name, const std::string& from,
                  const std::string& to, double truth_f) {
  return static_cast<int>(std::ranges::count_if(days, [&](const Day& day) {
    const auto& range = change_of(day, name, from, to).estimate.value();
    return range.low * f_per_k <= truth_f && truth_f <= range.high * f_per_k;
  }));
}

double half_width_f(const std::vector<Day>& days, const std::string& name, const std::string& from,
                    const std::string& to) {
  std::vector<double> halves;
  for (const auto& day : days) {
    const auto& range = change_of(day, name, from, to).estimate.value();
    halves.push_back(0.5 * (range.high - range.low) * f_per_k);
  }
  std::ranges::sort(halves);
  return 0.5 * (halves[(halves.size() - 1) / 2] + halves[halves.size() / 2]);
}

bool has_trouble(const call::Report& report, call::TroubleCode code) {
  return trouble(report, code) != nullptr;
}

const call::Trouble* trouble(const call::Report& report, call::TroubleCode code,
                             std::string_view where) {
  for (const auto& one : report.troubles)
    if (one.code == code && (where.empty() || one.where == where)) return &one;
  return nullptr;
}

std::string sentence_of(const Day& day) {
  return report::sentence({day.report, day.made.burn, Scale::fahrenheit});
}

}  // namespace pitwright::scenarios
