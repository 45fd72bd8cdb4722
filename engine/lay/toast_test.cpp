#include "lay/toast.h"

#include <cmath>

#include <gtest/gtest.h>

#include "lay/practice_lay.h"
#include "numeric/random.h"

namespace pitwright::lay {
namespace {

// Made-up fields: the air as practice_field, the toast a line of it plus, where asked, a radiant
// hot spot at the right that no thermometer sees. Nothing here is the model's own covariance.

double radiant(double x, double y) {
  const double dx = (x - 0.75) / 0.12, dy = (y - 0.25) / 0.12;
  return 9.0 * std::exp(-0.5 * (dx * dx + dy * dy));
}

struct Slices {
  double radiant_share = 0.0;
  double noise = 0.5;
  bool turned = false;
  bool cubed = false;
};

std::vector<ToastReading> slices(const Slices& wish) {
  numeric::Random random(7);
  std::vector<ToastReading> readings;
  for (int iy = 0; iy < 5; ++iy)
    for (int ix = 0; ix < 10; ++ix) {
      const double x = 0.05 + 0.1 * ix, y = 0.05 + 0.1 * iy;
      const double seen = practice_field(x, y, 0.15, 0) + wish.radiant_share * radiant(x, y);
      double value = 40.0 + 2.0 * seen + wish.noise * random.normal();
      if (wish.cubed) value = std::pow(value / 40.0, 3);
      readings.push_back({wish.turned ? 1.0 - x : x, y, value, wish.noise * wish.noise});
    }
  return readings;
}

Lay practice(bool turned = false) {
  auto runs = practice_runs();
  if (turned)
    for (auto& spot : runs.spots) spot.x_m = 1.0 - *spot.x_m;
  return make_lay(practice_pit(), runs, {.nodes_x = 20, .nodes_y = 10}).value();
}

/// Root mean square of the map less the true field, both about their means.
double map_error(const std::vector<double>& x_m, const std::vector<double>& y_m, const Grid& map) {
  double sum = 0.0, sum2 = 0.0;
  int n = 0;
  for (std::size_t y = 0; y < y_m.size(); ++y)
    for (std::size_t x = 0; x < x_m.size(); ++x) {
      const double e = map[y][x] - practice_field(x_m[x], y_m[y], 0.15, 0);
      sum += e;
      sum2 += e * e;
      ++n;
    }
  return std::sqrt(sum2 / n - sum * sum / n / n);
}

TEST(Toast, SharpensTheMapOfTheAirWhereItSeesNothingElse) {
  // Four thermometers, two on this grate: they anchor the scale and leave the map open.
  auto runs = practice_runs();
  runs.spots = {runs.spots[0], runs.spots[4], runs.spots[6], runs.spots[7]};
  const auto lay = make_lay(practice_pit(), runs, {.nodes_x = 20, .nodes_y = 10}).value();
  const auto toast = lay_with_toast(lay, 0, 0, slices({}), 5.0).value();
  const auto& alone = lay.settings[0].grates[0];
  EXPECT_LT(map_error(toast.x_m, toast.y_m, toast.value_k),
            0.8 * map_error(alone.x_m, alone.y_m, alone.value_k));
  double with = 0.0, without = 0.0, worst = 0.0;
  for (std::size_t y = 0; y < 10; ++y)
    for (std::size_t x = 0; x < 20; ++x) {
      with += toast.sd_k[y][x];
      without += alone.sd_k[y][x];
      worst = std::max(worst, toast.disagree[y][x]);
    }
  EXPECT_LT(with, without);
  EXPECT_LT(worst, 0.2);
  EXPECT_GT(lay_with_toast(practice(), 0, 0, slices({}), 5.0)->agreement, 0.9);
  // 2 a kelvin, and 40 where the field is zero; runs are about the mean of the spots.
  EXPECT_GT(toast.slope.high, 2.0);
  EXPECT_LT(toast.slope.low, 2.0);
}

TEST(Toast, SaysWhereRadiantHeatAndAirDisagree) {
  const auto toast = lay_with_toast(practice(), 0, 0, slices({.radiant_share = 1.0}), 3.0).value();
  // x 0.775, y 0.275 is the hot spot; x 0.125 is far from it.
  EXPECT_GT(toast.radiant_k[5][15], 3.0);
  EXPECT_GT(toast.disagree[5][15], 0.7);
  EXPECT_LT(toast.disagree[5][2], 0.5);
  EXPECT_NEAR(toast.radiant_k[5][15] - toast.radiant_k[5][2], 9.0, 4.0);
  EXPECT_GT(toast.radiant_sd_k[5][15], 0.0);
}

TEST(Toast, MirroredGrateHasTheMirroredMaps) {
  const Slices straight{.radiant_share = 1.0}, turned{.radiant_share = 1.0, .turned = true};
  const auto a = lay_with_toast(practice(), 0, 0, slices(straight), 3.0).value();
  const auto b = lay_with_toast(practice(true), 0, 0, slices(turned), 3.0).value();
  for (std::size_t y = 0; y < 10; ++y)
    for (std::size_t x = 0; x < 20; ++x) {
      EXPECT_NEAR(a.value_k[y][x], b.value_k[y][19 - x], 1e-6);
      EXPECT_NEAR(a.radiant_k[y][x], b.radiant_k[y][19 - x], 1e-6);
      EXPECT_NEAR(a.disagree[y][x], b.disagree[y][19 - x], 1e-6);
    }
}

TEST(Toast, ScaleOfTheReadingsDoesNotMatter) {
  const auto lay = practice();
  auto readings = slices({.radiant_share = 1.0});
  const auto a = lay_with_toast(lay, 0, 0, readings, 3.0).value();
  for (auto& r : readings) {
    r.value = 5.0 + 0.01 * r.value;
    r.variance *= 1e-4;
  }
  const auto b = lay_with_toast(lay, 0, 0, readings, 3.0).value();
  EXPECT_NEAR(a.value_k[3][7], b.value_k[3][7], 1e-6);
  EXPECT_NEAR(a.radiant_k[5][15], b.radiant_k[5][15], 1e-6);
  EXPECT_NEAR(a.slope.value, 100.0 * b.slope.value, 1e-6 * a.slope.value);
}

TEST(Toast, RanksUndoAScaleThatOnlyRises) {
  const auto lay = practice();
  const ToastOptions ranked{.ranked = true};
  const auto straight = lay_with_toast(lay, 0, 0, slices({}), 5.0, ranked).value();
  const auto bent = lay_with_toast(lay, 0, 0, slices({.cubed = true}), 5.0, ranked).value();
  EXPECT_NEAR(straight.agreement, bent.agreement, 0.01);
  EXPECT_GT(bent.agreement, 0.85);
}

TEST(Toast, ManyReadingsAreAveragedOverCells) {
  const auto lay = practice();
  std::vector<ToastReading> many;
  for (int again = 0; again < 20; ++again)
    for (auto r : slices({})) {
      r.variance *= 20.0;
      many.push_back(r);
    }
  const auto a = lay_with_toast(lay, 0, 0, slices({}), 5.0).value();
  const auto b = lay_with_toast(lay, 0, 0, many, 5.0).value();
  EXPECT_NEAR(a.value_k[3][7], b.value_k[3][7], 1e-6);
}

TEST(Toast, RefusesWhatIsNoMapInWords) {
  const auto lay = practice();
  EXPECT_FALSE(lay_with_toast(lay, 5, 0, slices({}), 5.0));
  EXPECT_FALSE(lay_with_toast(lay, 0, 9, slices({}), 5.0));
  auto few = slices({});
  few.resize(3);
  EXPECT_NE(lay_with_toast(lay, 0, 0, few, 5.0).error().what.find("too few"), std::string::npos);
  auto flat = slices({});
  for (auto& r : flat) r.value = 1.0;
  EXPECT_NE(lay_with_toast(lay, 0, 0, flat, 5.0).error().what.find("equal"), std::string::npos);
  auto bad = slices({});
  bad[0].variance = 0.0;
  EXPECT_FALSE(lay_with_toast(lay, 0, 0, bad, 5.0));
}

}  // namespace
}  // namespace pitwright::lay
