#include "mapped/number_map.h"

#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "report/text_width.h"

namespace pitwright::mapped {
namespace {

constexpr double per_degree = 1.0 / 1.8;  // of a °F degree [K]

/// A grate of 60 by 40 cm that runs `value` everywhere.
lay::GrateLay even_grate(double value_k, double sd_k) {
  lay::GrateLay grate;
  grate.width_m = 0.6;
  grate.depth_m = 0.4;
  for (int i = 0; i < 6; ++i) grate.x_m.push_back(0.05 + 0.1 * i);
  for (int j = 0; j < 4; ++j) grate.y_m.push_back(0.05 + 0.1 * j);
  grate.value_k.assign(4, std::vector<double>(6, value_k));
  grate.sd_k.assign(4, std::vector<double>(6, sd_k));
  return grate;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

int line_with(const std::vector<std::string>& lines, const std::string& wanted) {
  for (std::size_t k = 0; k < lines.size(); ++k)
    if (lines[k].find(wanted) != std::string::npos) return static_cast<int>(k);
  return -1;
}

std::string map_of(const lay::GrateLay& grate, const std::vector<MapNumber>& measured) {
  return number_map(grate, grate.value_k, grate.sd_k, measured, 10 * per_degree, Scale::fahrenheit);
}

TEST(NumberMap, KeepsToTheTerminal) {
  for (const auto& line : lines_of(map_of(even_grate(5 * per_degree, 0.1), {})))
    EXPECT_LE(report::display_width(line), 80);
}

TEST(NumberMap, PutsMeasuredNumbersInBracketsWhereTheyWere) {
  const auto lines = lines_of(
      map_of(even_grate(0.0, 0.1), {{0.1, 0.05, 14 * per_degree}, {0.5, 0.35, -9 * per_degree}}));
  const int front = line_with(lines, "[+14]"), back = line_with(lines, "[−9]");
  ASSERT_GE(front, 0);
  ASSERT_GE(back, 0);
  EXPECT_GT(front, back);  // the door is at the bottom
  EXPECT_LT(lines[static_cast<std::size_t>(front)].find("[+14]"),
            lines[static_cast<std::size_t>(back)].find("[−9]"));
}

TEST(NumberMap, LosesNoneOfTwoNumbersAtOnePlace) {
  const auto text =
      map_of(even_grate(0.0, 0.1), {{0.3, 0.2, 7 * per_degree}, {0.3, 0.2, -7 * per_degree}});
  EXPECT_NE(text.find("[+7]"), std::string::npos);
  EXPECT_NE(text.find("[−7]"), std::string::npos);
}

TEST(NumberMap, PutsADotWhereItIsNotKnown) {
  auto grate = even_grate(5 * per_degree, 0.1);
  EXPECT_EQ(map_of(grate, {}).find("·"), std::string::npos);
  grate.sd_k.back().assign(6, 10 * per_degree / 1.9);  // the row at the back, over the limit
  const auto lines = lines_of(map_of(grate, {}));
  EXPECT_NE(lines[1].find("·"), std::string::npos);
  EXPECT_EQ(lines[1].find("+5"), std::string::npos);
  EXPECT_NE(lines[lines.size() - 3].find("+5"), std::string::npos);
}

TEST(NumberMap, SpeaksTheScaleItIsAsked) {
  const auto grate = even_grate(5.0, 0.1);
  const auto celsius =
      number_map(grate, grate.value_k, grate.sd_k, {}, 10 * per_degree, Scale::celsius);
  EXPECT_NE(celsius.find("+5"), std::string::npos);
  EXPECT_NE(celsius.find("60 cm"), std::string::npos);
  EXPECT_NE(map_of(grate, {}).find("+9"), std::string::npos);
  EXPECT_NE(map_of(grate, {}).find("23.5 in"), std::string::npos);
}

}  // namespace
}  // namespace pitwright::mapped
