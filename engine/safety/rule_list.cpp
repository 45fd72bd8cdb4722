#include <utility>

#include <fmt/format.h>

#include "safety/rules.h"

namespace pitwright::safety {
namespace {

constexpr double minute_s = 60.0;
constexpr double hour_s = 3600.0;

Source fsis_cooking(std::string where) {
  return {"USDA FSIS, Cooking Guideline for Meat and Poultry Products (Revised Appendix A)",
          "December 2021, FSIS-GD-2021-0014", std::move(where), Known::read};
}

Source fsis_chart() {
  return {"USDA FSIS, Safe Minimum Internal Temperature Chart",  // official title
          "as read in 2026, undated", "whole chart", Known::read};
}

Source food_code(std::string where, Known known, std::string edition = "2022 numbering") {
  return {"FDA Food Code", std::move(edition), std::move(where), known};
}

Source appendix_b(bool revised, std::string where) {
  if (revised) {
    return {"USDA FSIS, Stabilization Guideline for Meat and Poultry Products (Revised Appendix B)",
            "December 2021, FSIS-GD-2021-13", std::move(where), Known::memory};
  }
  return {"USDA FSIS, Appendix B, compliance guidelines for cooling", "1999", std::move(where),
          Known::second_hand};
}

Rule cooking(std::string name, std::string title, Source source, std::vector<Dwell> rows) {
  Rule rule;
  rule.name = std::move(name);
  rule.title = std::move(title);
  rule.source = std::move(source);
  rule.rows = std::move(rows);
  return rule;
}

Rule table(std::string name, std::string title, std::string where, std::vector<Dwell> rows,
           double target_log) {
  auto rule =
      cooking(std::move(name), std::move(title), fsis_cooking(std::move(where)), std::move(rows));
  rule.adds_up = true;
  rule.target_log = target_log;
  rule.for_poultry = target_log == 7.0 && rule.rows.front().at_f == 136.0;
  return rule;
}

Rule meat_only(Rule rule) {
  rule.for_poultry = false;
  return rule;
}

Rule intact_only(Rule rule) {
  rule.for_poultry = false;
  rule.for_not_intact = false;
  return rule;
}

void add_tables(std::vector<Rule>& rules) {
  rules.push_back(table("meat 6.5 log", "meat roasts, 6.5 log of Salmonella", "Table 2, p. 35",
                        meat_table(MeatTarget::log_6_5), 6.5));
  rules.push_back(table("meat 7 log", "meat, 7 log of Salmonella", "Table 2, p. 35",
                        meat_table(MeatTarget::log_7), 7.0));
  rules.push_back(table("meat 5 log", "meat patties, 5 log of Salmonella", "Table 6, p. 59",
                        meat_table(MeatTarget::log_5), 5.0));
  for (const auto bird : {Bird::chicken, Bird::turkey}) {
    const bool chicken = bird == Bird::chicken;
    const std::string kind = chicken ? "chicken" : "turkey";
    for (int fat = 1; fat <= 12; ++fat) {
      rules.push_back(table(fmt::format("{} {} %", kind, fat),
                            fmt::format("{} of {} % fat, 7 log of Salmonella", kind, fat),
                            chicken ? "Table 3, p. 37" : "Table 4, p. 38", poultry_table(bird, fat),
                            7.0));
    }
  }
  rules.push_back(table("poultry",
                        "any bird, and meat mixed with poultry, 7 log of Salmonella: the "
                        "longer of chicken's and turkey's time at 12 % fat",
                        "Tables 3 and 4, pp. 37-38", longest_poultry_table(), 7.0));
}

void add_minimums(std::vector<Rule>& rules) {
  rules.push_back(intact_only(cooking("whole 145 F",
                                      "whole cuts of beef, pork, veal, lamb; fresh "
                                      "ham: 145 °F and 3 min of rest",
                                      fsis_chart(), {{145, 3 * minute_s}})));
  rules.push_back(
      meat_only(cooking("ground 160 F", "ground meat: 160 °F", fsis_chart(), {{160, 0}})));
  rules.push_back(cooking("poultry 165 F", "all poultry, ground and stuffing too: 165 °F",
                          fsis_chart(), {{165, 0}}));
  rules.push_back(meat_only(cooking("fish 145 F", "fish: 145 °F", fsis_chart(), {{145, 0}})));
  rules.push_back(meat_only(cooking("eggs 160 F", "egg dishes: 160 °F", fsis_chart(), {{160, 0}})));
  rules.push_back(
      cooking("leftovers 165 F", "leftovers and casseroles: 165 °F", fsis_chart(), {{165, 0}}));
  rules.push_back(intact_only(cooking("ham 140 F",
                                      "fully cooked ham of an inspected plant, "
                                      "reheated: 140 °F",
                                      fsis_chart(), {{140, 0}})));
  rules.push_back(
      intact_only(cooking("food code 145 F",
                          "intact meat, fish, eggs for immediate "
                          "service: 145 °F for 15 s",
                          food_code("3-401.11(A)(1)", Known::second_hand), {{145, 15}})));
  rules.push_back(meat_only(
      cooking("food code ground", "minced, injected or mechanically tenderized meat",
              food_code("3-401.11(A)(2); its 17 s at 155 °F second-hand", Known::second_hand),
              {{145, 3 * minute_s}, {150, minute_s}, {155, 17}, {158, 0}})));
  rules.push_back(cooking("food code poultry", "poultry, stuffed food, wild game: 165 °F for 15 s",
                          food_code("3-401.11(A)(3); the 2022 edition asks for under 1 s, from "
                                    "memory",
                                    Known::read, "editions before 2017"),
                          {{165, 15}}));
  auto roast = intact_only(cooking(
      "food code roast",
      "whole roasts of beef, corned beef, lamb, pork, cured pork; the paragraph "
      "has oven conditions too, which are not checked here (a still dry pit below 250 °F meets "
      "none of them)",
      food_code("3-401.11(B)", Known::read),
      {{130, 6720},
       {131, 5340},
       {133, 3360},
       {135, 2160},
       {136, 1680},
       {138, 1080},
       {140, 720},
       {142, 480},
       {144, 300},
       {145, 240},
       {147, 134},
       {149, 85},
       {151, 54},
       {153, 34},
       {155, 22},
       {157, 14},
       {158, 0}}));
  roast.adds_up = true;
  rules.push_back(std::move(roast));
  rules.push_back(meat_only(
      cooking("patties", "cooked beef patties",
              {"9 CFR 318.23", "not known", "table of permitted temperatures", Known::memory},
              {{151, 41}, {152, 32}, {153, 26}, {154, 20}, {155, 16}, {156, 13}, {157, 10}})));
  rules.push_back(cooking("reheat 165 F",
                          "cooked and cooled food heated again to be held hot: "
                          "165 °F for 15 s",
                          food_code("3-403.11", Known::second_hand), {{165, 15}}));
}

Rule between(std::string name, RuleKind kind, std::string title, Source source, double low_f,
             double high_f, double limit_h) {
  Rule rule;
  rule.name = std::move(name);
  rule.kind = kind;
  rule.title = std::move(title);
  rule.source = std::move(source);
  rule.low_f = low_f;
  rule.high_f = high_f;
  rule.limit_s = limit_h * hour_s;
  return rule;
}

void add_limits(std::vector<Rule>& rules) {
  rules.push_back(between("4 h", RuleKind::zone, "40 to 140 °F in at most 4 h",
                          {"practice of the trade", "no document", "", Known::memory}, 40, 140, 4));
  const std::string danger = "the \"danger zone\" of 40 to 140 °F";
  rules.push_back(between(
      "2 h", RuleKind::zone, "40 to 140 °F for at most 2 h",
      {"USDA FSIS, advice for consumers", "undated", danger, Known::second_hand}, 40, 140, 2));
  rules.push_back(between(
      "1 h", RuleKind::zone,
      "40 to 140 °F for at most 1 h, above 90 °F "
      "outdoors",
      {"USDA FSIS, advice for consumers", "undated", danger, Known::second_hand}, 40, 140, 1));
  rules.push_back(between("food code 4 h", RuleKind::zone,
                          "time alone as control: 41 to 135 °F "
                          "for at most 4 h",
                          food_code("3-501.19", Known::second_hand), 41, 135, 4));
  rules.push_back(between("come-up 6 h", RuleKind::come_up,
                          "50 to 130 °F within 6 h while warming "
                          "up (Staphylococcus aureus)",
                          fsis_cooking("critical parameters, come-up "
                                       "time"),
                          50, 130, 6));
  rules.push_back(between("hold 135 F", RuleKind::hold, "cooked food kept hot at 135 °F or above",
                          food_code("3-501.16", Known::second_hand, "2009"), 0, 135, 0));
  rules.push_back(between("hold 130 F", RuleKind::hold,
                          "roasts cooked by 3-401.11(B) kept hot at "
                          "130 °F or above",
                          food_code("3-501.16", Known::second_hand, "2009"), 0, 130, 0));
  rules.push_back(between(
      "hold 140 F", RuleKind::hold, "cooked food kept hot at 140 °F or above",
      {"USDA FSIS, advice for consumers", "undated", danger, Known::second_hand}, 0, 140, 0));
}

Rule cooling(std::string name, std::string title, Source source, std::vector<CoolingStep> steps) {
  Rule rule;
  rule.name = std::move(name);
  rule.kind = RuleKind::cooling;
  rule.title = std::move(title);
  rule.source = std::move(source);
  rule.steps = std::move(steps);
  return rule;
}

void add_cooling(std::vector<Rule>& rules) {
  rules.push_back(cooling(
      "cool food code", "135 to 70 °F within 2 h and to 41 °F within 6 h in all",
      food_code("3-501.14", Known::second_hand), {{135, 70, 2 * hour_s}, {135, 41, 6 * hour_s}}));
  const std::vector<CoolingStep> first{{130, 80, 1.5 * hour_s}, {80, 40, 5 * hour_s}};
  const std::string first_title = "130 to 80 °F within 1 h 30 min and 80 to 40 °F within 5 h";
  const std::vector<CoolingStep> cured{{130, 80, 5 * hour_s}, {80, 45, 10 * hour_s}};
  rules.push_back(cooling("cool 1999 option 1", first_title, appendix_b(false, "option 1"), first));
  rules.push_back(cooling("cool 1999 option 2",
                          "120 to 55 °F within 6 h; 120 to 80 °F within 1 h "
                          "is advised; shipped at 40 °F or below",
                          appendix_b(false, "option 2"),
                          {{120, 80, 1 * hour_s}, {120, 55, 6 * hour_s}}));
  rules.push_back(cooling("cool 1999 option 3",
                          "cured, at least 100 ppm of nitrite: 130 to 80 °F "
                          "within 5 h and 80 to 45 °F within 10 h",
                          appendix_b(false, "option 3"), cured));
  rules.push_back(cooling("cool 2021 option 1", first_title, appendix_b(true, "option 1"), first));
  rules.push_back(cooling("cool 2021 option 2",
                          "120 to 80 °F within 1 h and 80 to 55 °F within "
                          "5 h, then on to 40 °F",
                          appendix_b(true, "option 2"),
                          {{120, 80, 1 * hour_s}, {80, 55, 5 * hour_s}}));
  rules.push_back(cooling("cool 2021 option 3",
                          "cured, at least 100 ppm of nitrite and 250 ppm of "
                          "erythorbate or ascorbate: 130 to 80 °F within 5 h and 80 to 45 °F "
                          "within 10 h",
                          appendix_b(true, "option 3"), cured));
  rules.push_back(cooling("cool 2021 option 4",
                          "cured, at least 40 ppm of nitrite and 6 % brine: "
                          "120 to 40 °F within 20 h",
                          appendix_b(true, "option 4"), {{120, 40, 20 * hour_s}}));
}

std::vector<Rule> made_rules() {
  std::vector<Rule> rules;
  add_tables(rules);
  add_minimums(rules);
  add_limits(rules);
  add_cooling(rules);
  return rules;
}

}  // namespace

const std::vector<Rule>& all_rules() {
  static const std::vector<Rule> rules = made_rules();
  return rules;
}

}  // namespace pitwright::safety
