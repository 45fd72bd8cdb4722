#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "call/report.h"
#include "rehearse/scenarios.h"

namespace pitwright::scenarios {

/// Twenty rehearsed days of a scenario and what the call said of each.
inline constexpr int day_count = 20;
inline constexpr int days_that_must_agree = 16;

struct Day {
  int seed;
  rehearse::RehearsedBurn made;
  call::Report report;
};

/// A scenario of the book, with its own plan or with these settings in this order (each as long as
/// the plan's first stint).
rehearse::Scenario scenario(std::string_view id, const std::vector<std::string>& order = {});

/// Seeds 1 to 20. Throws where a day cannot be made or called.
std::vector<Day> days_of(const rehearse::Scenario& scenario);

/// One question of a call, by its name: "level", "spread", "dial gap", an axis, or a spot.
const call::Quantity& question(const call::Report& report, const std::string& name);
const call::Change& change_of(const Day& day, const std::string& name, const std::string& from,
                              const std::string& to);

/// How far two words lie apart: clear - too close - not yet - no odds in a row, the order in which
/// a range that straddles what matters may fall; "too close" borders on "no odds" as well, for a
/// change near what matters. 0: same; 1: neighbors; 2: further. Muddled has no neighbor.
int distance(call::Word a, call::Word b);

/// Days whose word on a question is this one or a neighbor of it.
int days_near(const std::vector<Day>& days, const std::string& name, const std::string& from,
              const std::string& to, call::Word word);

/// Every wrong word of these days: "clear" where the truth is no more than matters or has the other
/// sign, "no odds" where it is matters or more. The truth is over the spots that made the level.
std::vector<std::string> wrong_words(const std::vector<Day>& days);

/// Mean over the days of a change's value [degF].
double mean_change_f(const std::vector<Day>& days, const std::string& name, const std::string& from,
                     const std::string& to);

/// Share of the days whose single range [low, high] holds the truth [degF].
int days_covering(const std::vector<Day>& days, const std::string& name, const std::string& from,
                  const std::string& to, double truth_f);

/// Median over the days of half the width of the single 95 % range [degF].
double half_width_f(const std::vector<Day>& days, const std::string& name, const std::string& from,
                    const std::string& to);

bool has_trouble(const call::Report& report, call::TroubleCode code);
const call::Trouble* trouble(const call::Report& report, call::TroubleCode code,
                             std::string_view where = "");

std::string sentence_of(const Day& day);

}  // namespace pitwright::scenarios
