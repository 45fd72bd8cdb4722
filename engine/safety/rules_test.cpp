#include "safety/rules.h"

#include <set>

#include <gmock/gmock.h>

namespace pitwright::safety {
namespace {

TEST(Rules, AreFoundHoweverTheirNamesAreTyped) {
  const auto* rule = find_rule("Chicken 12%");
  ASSERT_NE(rule, nullptr);
  EXPECT_EQ(rule->name, "chicken 12 %");
  EXPECT_EQ(find_rule("HOLD 140°F"), find_rule("hold 140 F"));
  EXPECT_EQ(find_rule("chicken 13 %"), nullptr);
  EXPECT_EQ(find_rule("meat 65 log"), nullptr);
  EXPECT_EQ(find_rule(""), nullptr);
}

TEST(Rules, AllHaveNamesOfTheirOwnASourceAndWhatTheirKindNeeds) {
  std::set<const Rule*> found;
  for (const auto& rule : all_rules()) {
    found.insert(find_rule(rule.name));
    EXPECT_FALSE(rule.title.empty() || rule.source.document.empty() ||
                 (rule.source.where.empty() && rule.source.known != Known::memory));
    EXPECT_EQ(rule.rows.empty(), rule.kind != RuleKind::cooking) << rule.name;
    EXPECT_EQ(rule.steps.empty(), rule.kind != RuleKind::cooling) << rule.name;
    if (rule.kind == RuleKind::zone || rule.kind == RuleKind::come_up) {
      EXPECT_GT(rule.limit_s, 0.0) << rule.name;
      EXPECT_GT(rule.high_f, rule.low_f) << rule.name;
    }
    EXPECT_TRUE(rule.target_log <= 0.0 || rule.source.known == Known::read) << rule.name;
  }
  EXPECT_EQ(found.size(), all_rules().size());
}

TEST(Rules, OfTheMeatTableAreNotForPoultry) {
  EXPECT_FALSE(find_rule("meat 6.5 log")->for_poultry);
  EXPECT_FALSE(find_rule("meat 7 log")->for_poultry);
  EXPECT_FALSE(find_rule("whole 145 F")->for_poultry);
  EXPECT_TRUE(find_rule("turkey 8 %")->for_poultry);
  EXPECT_TRUE(find_rule("poultry 165 F")->for_poultry);
}

TEST(ChosenRules, AreOneAKindAndNameWhatIsUnknownOrTwice) {
  const auto chosen = chosen_rules(" meat 6.5 log, 4 h; hold 140 F,, cool food code,moon,2 h ");
  EXPECT_EQ(chosen.cooking, find_rule("meat 6.5 log"));
  EXPECT_EQ(chosen.zone, find_rule("4 h"));
  EXPECT_EQ(chosen.hold, find_rule("hold 140 F"));
  EXPECT_EQ(chosen.cooling, find_rule("cool food code"));
  EXPECT_EQ(chosen.come_up, nullptr);
  EXPECT_THAT(chosen.unknown, testing::ElementsAre("moon"));
  EXPECT_THAT(chosen.twice, testing::ElementsAre("2 h"));
  EXPECT_TRUE(chosen_rules("").unknown.empty());
}

}  // namespace
}  // namespace pitwright::safety
