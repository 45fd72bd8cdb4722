#include "call/judge.h"

#include <cmath>

#include <gtest/gtest.h>

#include "call/practice_burn.h"

namespace pitwright::call {
namespace {

TEST(Judge, FindsALargeChangeOfTheLayAndNamesItClear) {
  PracticeBurn practice;
  practice.runs_k = {{12.0, 4.0, -4.0, -12.0}, {-12.0, -4.0, 4.0, 12.0}};
  const auto report = judge(practice.burn(), practice.panel(1), practice.windows());
  ASSERT_EQ(report.tilts.size(), 1u);
  const auto& change = report.tilts[0].tilt.changes.at(0);
  ASSERT_TRUE(change.estimate);
  EXPECT_EQ(change.word, Word::clear);
  EXPECT_LT(change.estimate->low, 48.0);
  printf("%g %g %g  %g %g\n", change.estimate->value, change.estimate->low, change.estimate->high, change.word_low, change.word_high);
  for (auto& l : report.explain) printf("%s\n", l.c_str());
  for (auto& q : {report.level, report.spread, *report.dial_gap, report.spots[0].runs}) {
    for (auto& s : q.by_setting) printf("%d: %g %g %g (%g)\n", s.setting, s.estimate->value, s.estimate->low, s.estimate->high, s.probe_uncertainty_k);
    for (auto& c : q.changes) printf("change %g [%g %g] words [%g %g] %s needs %d\n", c.estimate->value, c.estimate->low, c.estimate->high, c.word_low, c.word_high, name_of(c.word).data(), c.needs_stints.value_or(-1));
  }
}

}  // namespace
}  // namespace pitwright::call
