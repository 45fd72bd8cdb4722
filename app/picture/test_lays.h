#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "picture/lay_picture.h"

namespace pitwright::picture::test {

/// A lay picture made by hand for tests of the pages: smooth fields of our own invention.
struct SampleLay {
  std::string name;
  LayPicture lay;
};

using Field =
    std::function<double(double, double)>;  ///< [°F degrees] at x, y in shares of the grate

inline constexpr double per_degree = 1.0 / 1.8;

struct Ground {
  std::string grate;
  double width_m, depth_m;
  std::vector<MapSpot> spots;  ///< their places; values come from the field
};

/// How far a place is from the nearest spot, as an sd [K].
inline double distance_sd(const Ground& ground, double x_m, double y_m) {
  double nearest = 1e9;
  for (const auto& spot : ground.spots) {
    nearest = std::min(nearest, std::hypot(spot.x_m - x_m, spot.y_m - y_m));
  }
  return 1.0 + 12.0 * nearest;
}

inline HeatMap map_of(const Ground& ground, const Field& field) {
  constexpr int nx = 60, ny = 40;
  HeatMap map;
  map.grate = ground.grate;
  map.width_m = ground.width_m;
  map.depth_m = ground.depth_m;
  for (int i = 0; i < nx; ++i) map.x_m.push_back((i + 0.5) / nx * ground.width_m);
  for (int j = 0; j < ny; ++j) map.y_m.push_back((j + 0.5) / ny * ground.depth_m);
  for (const double y : map.y_m) {
    for (const double x : map.x_m) {
      map.value_k.push_back(per_degree * field(x / ground.width_m, y / ground.depth_m));
      map.sd_k.push_back(distance_sd(ground, x, y));
    }
  }
  map.spots = ground.spots;
  for (auto& spot : map.spots) {
    spot.value_k = per_degree * field(spot.x_m / ground.width_m, spot.y_m / ground.depth_m);
  }
  return map;
}

inline Field less(const Field& to, const Field& from) {
  return [=](double x, double y) { return to(x, y) - from(x, y); };
}

inline const std::vector<Ground>& shelves() {
  static const std::vector<Ground> all = {
      {"upper", 0.75, 0.45, {{"UL", 0.20, 0.22, 0}, {"UR", 0.55, 0.22, 0}}},
      {"main",
       0.75,
       0.45,
       {{"L1", 0.15, 0.12, 0},
        {"L2", 0.15, 0.33, 0},
        {"R1", 0.60, 0.12, 0},
        {"R2", 0.60, 0.33, 0}}}};
  return all;
}

inline LaySheet sheet(const std::string& head, const std::string& under,
                      const std::vector<Ground>& grounds, const Field& field) {
  LaySheet made{head, under, {}};
  for (const auto& ground : grounds) made.grates.push_back(map_of(ground, field));
  return made;
}

inline LayPicture titled(const std::string& under) {
  LayPicture lay;
  lay.title = "Where the heat lies";
  lay.under = under;
  lay.usable = "the largest stretch that keeps within ±10° of the level, 90 % sure";
  lay.notes = {"Numbers: how far each thermometer runs from the level, the mean over the spots."};
  return lay;
}

inline double left_hot(double x, double y) {
  return 14.0 - 28.0 * x + 5.0 * std::sin(5.0 * x) * (y - 0.4);
}

inline double nearly_even(double x, double y) {
  return 1.5 - 3.0 * x * y + 1.5 * std::cos(6.0 * x);
}

/// Two settings on two grates and their difference.
inline SampleLay two_shelves() {
  auto lay = titled("Tin hopper behind the bakery · 2 May 2026 · 6 thermometers, stints A B B A");
  lay.sentence = "The heat moved 14° from left to right. The level may have risen too.";
  lay.settings = {sheet("A", "level 240° (238 to 243)", shelves(), left_hot),
                  sheet("B", "level 249° (246 to 253)", shelves(), nearly_even)};
  lay.differences = {sheet("A → B", "level +8° (5 to 13)", shelves(), less(nearly_even, left_hot))};
  lay.settings[0].grates[1].marks = {{"usable", 0.22, 0.52, 0.05, 0.4},
                                     {"next", 0.4, 0.4, 0.22, 0.22}};
  return {"two_shelves", std::move(lay)};
}

/// One setting, one long grate, most of one end unknown.
inline SampleLay one_barrel() {
  const Ground barrel{
      "",
      1.2,
      0.5,
      {{"F1", 1.0, 0.13, 0}, {"F2", 1.0, 0.37, 0}, {"M1", 0.6, 0.13, 0}, {"M2", 0.6, 0.37, 0}}};
  auto lay = titled("Long barrel at Ferry Bend · 4 thermometers");
  lay.unit = Scale::celsius;
  lay.matters_k = lay.unknown_k = 5.0;
  lay.settings = {sheet("baffle in", "level 131° (128 to 134)", {barrel},
                        [](double x, double y) { return -22.0 + 44.0 * x * x + 6.0 * (y - 0.5); })};
  return {"one_barrel", std::move(lay)};
}

/// Three settings and their three differences.
inline SampleLay three_positions() {
  const Ground barrel{"",
                      1.2,
                      0.5,
                      {{"F1", 1.0, 0.13, 0},
                       {"F2", 1.0, 0.37, 0},
                       {"M1", 0.6, 0.13, 0},
                       {"M2", 0.6, 0.37, 0},
                       {"S1", 0.2, 0.13, 0},
                       {"S2", 0.2, 0.37, 0}}};
  const Field a = [](double x, double y) { return 50.0 * (x - 0.5) + 4.0 * (y - 0.5); };
  const Field b = [](double x, double y) { return 16.0 * (x - 0.5) - 3.0 * std::sin(4.0 * y); };
  const Field c = [](double x, double y) { return -16.0 * (x - 0.5) + 2.0 * y; };
  auto lay = titled("Long barrel at Ferry Bend · baffle in, mid, out");
  lay.settings = {sheet("A", "level 263° (254 to 272)", {barrel}, a),
                  sheet("B", "level 258° (249 to 267)", {barrel}, b),
                  sheet("C", "level 255° (246 to 264)", {barrel}, c)};
  lay.differences = {sheet("A → B", "level −5° (−18 to 8)", {barrel}, less(b, a)),
                     sheet("A → C", "level −8° (−21 to 5)", {barrel}, less(c, a)),
                     sheet("B → C", "level −3° (−14 to 8)", {barrel}, less(c, b))};
  return {"three_positions", std::move(lay)};
}

/// Four settings, spots that crowd.
inline SampleLay four_positions() {
  Ground drum{"", 0.55, 0.55, {}};
  for (int k = 0; k < 9; ++k) {
    drum.spots.push_back({"P" + std::to_string(k), 0.25 + 0.004 * k, 0.3 - 0.003 * k, 0});
  }
  drum.spots.push_back({"edge", 0.02, 0.54, 0});
  auto lay = titled("Drum · four ring positions");
  for (int k = 0; k < 4; ++k) {
    lay.settings.push_back(sheet(
        "ring at a quarter turn " + std::to_string(k), "level 275°", {drum},
        [k](double x, double y) { return 18.0 * std::sin(3.0 * x + 1.5 * k) - 12.0 * y + 6.0; }));
  }
  for (int k = 1; k < 4; ++k) {
    lay.differences.push_back(sheet("0 → " + std::to_string(k), "level 0°", {drum},
                                    [k](double x, double) { return 9.0 * k * (x - 0.5); }));
  }
  return {"four_positions", std::move(lay)};
}

/// No spread at all, names full of markup.
inline SampleLay even_pit() {
  const Ground oven{
      "rack <1> & \"2\"", 0.4, 0.4, {{"a<b>&\"c\"", 0.1, 0.1, 0}, {"d'", 0.3, 0.3, 0}}};
  auto lay = titled("Oven <b>\"hot\" & level</b>");
  lay.settings = {
      sheet("fan <on> & \"off\"", "level 350°", {oven}, [](double, double) { return 0.0; })};
  return {"even_pit", std::move(lay)};
}

/// A single spot, a field of one node.
inline SampleLay one_spot() {
  auto lay = titled("One thermometer");
  HeatMap map;
  map.width_m = 0.5;
  map.depth_m = 0.4;
  map.x_m = {0.25};
  map.y_m = {0.2};
  map.value_k = {0.0};
  map.sd_k = {9.0};
  map.spots = {{"only", 0.25, 0.2, 0.0}};
  lay.settings = {{"A", "level 250°", {map}}};
  return {"one_spot", std::move(lay)};
}

inline std::vector<SampleLay> all_sample_lays() {
  return {two_shelves(), one_barrel(), three_positions(), four_positions(), even_pit(), one_spot()};
}

}  // namespace pitwright::picture::test
