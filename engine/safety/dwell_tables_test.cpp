#include "safety/dwell_tables.h"

#include <cmath>
#include <fstream>
#include <limits>
#include <map>
#include <sstream>
#include <string>

#include <gmock/gmock.h>

#include "units/parse.h"

namespace pitwright::safety {
namespace {

/// data/safety/fsis_tables.csv: "T3 chicken 12" -> rows.
std::map<std::string, std::vector<Dwell>> csv_tables() {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/safety/fsis_tables.csv");
  std::map<std::string, std::vector<Dwell>> tables;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::istringstream cells(line);
    std::string table, target, species, fat, at_f, dwell_s;
    std::getline(cells, table, ',');
    std::getline(cells, target, ',');
    std::getline(cells, species, ',');
    std::getline(cells, fat, ',');
    std::getline(cells, at_f, ',');
    std::getline(cells, dwell_s, ',');
    while (!dwell_s.empty() && dwell_s.back() < '0') dwell_s.pop_back();
    tables[table + " " + target + " " + species + " " + fat].push_back(
        {*parse_number(at_f), *parse_number(dwell_s)});
  }
  return tables;
}

void expect_same(const std::vector<Dwell>& code, const std::vector<Dwell>& csv) {
  ASSERT_EQ(code.size(), csv.size());
  for (std::size_t i = 0; i < code.size(); ++i) {
    EXPECT_EQ(code[i].at_f, csv[i].at_f);
    EXPECT_NEAR(code[i].dwell_s, csv[i].dwell_s, 1e-9) << code[i].at_f;
  }
}

TEST(DwellTables, AreTheTranscriptionRowByRow) {
  const auto csv = csv_tables();
  ASSERT_EQ(csv.size(), 27U);
  expect_same(meat_table(MeatTarget::log_6_5), csv.at("T2 6.5 meat "));
  expect_same(meat_table(MeatTarget::log_7), csv.at("T2 7 meat "));
  expect_same(meat_table(MeatTarget::log_5), csv.at("T6 5 meat "));
  for (int fat = 1; fat <= 12; ++fat) {
    expect_same(poultry_table(Bird::chicken, fat), csv.at("T3 7 chicken " + std::to_string(fat)));
    expect_same(poultry_table(Bird::turkey, fat), csv.at("T4 7 turkey " + std::to_string(fat)));
  }
}

// Source: FSIS-GD-2021-0014, Tables 2, 3, 4, cells as printed (degF, minutes or seconds).
TEST(DwellTables, HaveTheCellsOfTheDocument) {
  EXPECT_EQ(meat_table(MeatTarget::log_6_5).front().dwell_s, 112 * 60);
  EXPECT_EQ(meat_table(MeatTarget::log_6_5)[15].dwell_s, 4 * 60);           // 145 degF
  EXPECT_EQ(meat_table(MeatTarget::log_7)[16].dwell_s, 182);                // 146 degF
  EXPECT_EQ(meat_table(MeatTarget::log_5)[27].dwell_s, 11);                 // 157 degF
  EXPECT_NEAR(poultry_table(Bird::chicken, 12)[4].dwell_s, 35 * 60, 1e-9);  // 140 degF
  EXPECT_NEAR(poultry_table(Bird::turkey, 1)[0].dwell_s, 64 * 60, 1e-9);    // 136 degF
  EXPECT_NEAR(poultry_table(Bird::turkey, 12)[28].dwell_s, 11.7, 1e-9);     // 164 degF
}

// Source: Food Code 3-401.11(B) prints the same times for whole roasts at ten of these rows.
TEST(DwellTables, AgreeWithTheFoodCodeForRoasts) {
  const auto table = meat_table(MeatTarget::log_6_5);
  const std::map<double, double> food_code{
      {130, 112 * 60}, {131, 89 * 60}, {133, 56 * 60}, {135, 36 * 60}, {136, 28 * 60},
      {138, 18 * 60},  {140, 12 * 60}, {142, 8 * 60},  {144, 5 * 60},  {145, 4 * 60},
      {147, 134},      {149, 85},      {151, 54},      {153, 34},      {155, 22},
      {157, 14},       {158, 0}};
  for (const auto& row : table) {
    if (!food_code.contains(row.at_f)) continue;
    EXPECT_EQ(row.dwell_s, food_code.at(row.at_f)) << row.at_f;
  }
}

// Source: FSIS-GD-2021-0014 rounds 112 min x 10^(-(F - 130) / 10); the column prints whole minutes
// from 145 degF down and whole seconds above it, rounded either way.
TEST(DwellTables, FollowTheirLogLineWithinTheRounding) {
  for (const auto& row : meat_table(MeatTarget::log_6_5)) {
    if (row.dwell_s <= 0.0) continue;
    const double line_s = 112 * 60 * std::pow(10.0, -(row.at_f - 130.0) / 10.0);
    EXPECT_NEAR(row.dwell_s, line_s, row.at_f <= 145 ? 60.0 : 1.0) << row.at_f;
  }
}

TEST(DwellTables, NeverAskForLessTimeAtLessHeat) {
  std::vector<std::vector<Dwell>> tables{meat_table(MeatTarget::log_6_5),
                                         meat_table(MeatTarget::log_7),
                                         meat_table(MeatTarget::log_5), longest_poultry_table()};
  for (int fat = 1; fat <= 12; ++fat) {
    tables.push_back(poultry_table(Bird::chicken, fat));
    tables.push_back(poultry_table(Bird::turkey, fat));
  }
  for (const auto& table : tables) {
    for (std::size_t i = 1; i < table.size(); ++i) {
      EXPECT_EQ(table[i].at_f, table[i - 1].at_f + 1);
      EXPECT_LE(table[i].dwell_s, table[i - 1].dwell_s) << table[i].at_f;
    }
  }
}

TEST(DwellAt, IsTheRowAtARowAndInBetweenOnTheLogLine) {
  const auto table = meat_table(MeatTarget::log_6_5);
  EXPECT_NEAR(dwell_at_s(table, 145), 240, 1e-9);
  EXPECT_NEAR(dwell_at_s(table, 140.5), std::sqrt(720.0 * 540.0), 1e-9);
}

TEST(DwellAt, GivesNoCreditBelowTheFirstRowAndNoMoreAboveTheLastTimedOne) {
  const auto meat = meat_table(MeatTarget::log_6_5);
  EXPECT_EQ(dwell_at_s(meat, 129.999), std::numeric_limits<double>::infinity());
  EXPECT_EQ(dwell_at_s(meat, 157), 14);
  EXPECT_EQ(dwell_at_s(meat, 200), 14);
  const auto turkey = poultry_table(Bird::turkey, 12);
  EXPECT_EQ(dwell_at_s(turkey, 135.9), std::numeric_limits<double>::infinity());
  EXPECT_NEAR(dwell_at_s(turkey, 210), 11.7, 1e-9);
}

}  // namespace
}  // namespace pitwright::safety
