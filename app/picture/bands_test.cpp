#include "picture/bands.h"

#include <algorithm>
#include <cmath>
#include <random>

#include <gtest/gtest.h>

#include "base/expects.h"

namespace pitwright::picture {
namespace {

std::vector<double> field(int nx, int ny, double (*value)(double, double)) {
  std::vector<double> values;
  for (int j = 0; j < ny; ++j) {
    for (int i = 0; i < nx; ++i) values.push_back(value(i, j));
  }
  return values;
}

/// The slow way: every cell's part above the limit, with edges cut where the values are straight.
double area_above(const Lattice& lattice, double limit) {
  double area = 0.0;
  for (int j = 0; j + 1 < lattice.ny; ++j) {
    for (int i = 0; i + 1 < lattice.nx; ++i) {
      const double v[4] = {lattice.at(i, j), lattice.at(i + 1, j), lattice.at(i + 1, j + 1),
                           lattice.at(i, j + 1)};
      const double x[4] = {0, 1, 1, 0}, y[4] = {0, 0, 1, 1};
      bool in[4];
      for (int k = 0; k < 4; ++k) in[k] = v[k] >= limit;
      const auto cut = [&](int a, int b) {
        const double share = (limit - v[a]) / (v[b] - v[a]);
        return std::pair{x[a] + share * (x[b] - x[a]), y[a] + share * (y[b] - y[a])};
      };
      const auto polygon_area = [](const std::vector<std::pair<double, double>>& p) {
        double twice = 0.0;
        for (std::size_t k = 0; k < p.size(); ++k) {
          const auto& [ax, ay] = p[k];
          const auto& [bx, by] = p[(k + 1) % p.size()];
          twice += ax * by - bx * ay;
        }
        return twice / 2.0;
      };
      const bool saddle = in[0] == in[2] && in[1] == in[3] && in[0] != in[1];
      if (saddle && (v[0] + v[1] + v[2] + v[3]) / 4.0 < limit) {
        for (int k = 0; k < 4; ++k) {
          if (!in[k]) continue;
          area += polygon_area({{x[k], y[k]}, cut(k, (k + 1) % 4), cut(k, (k + 3) % 4)});
        }
        continue;
      }
      std::vector<std::pair<double, double>> polygon;
      for (int k = 0; k < 4; ++k) {
        if (in[k]) polygon.emplace_back(x[k], y[k]);
        if (in[k] != in[(k + 1) % 4]) polygon.push_back(cut(k, (k + 1) % 4));
      }
      area += polygon_area(polygon);
    }
  }
  return area;
}

TEST(RegionAbove, OfAPlaneIsExact) {
  const auto values = field(5, 4, [](double i, double) { return i; });
  const auto rings = region_above({5, 4, values}, 1.25);
  ASSERT_EQ(rings.size(), 1U);
  EXPECT_NEAR(area_of(rings), (4.0 - 1.25) * 3.0, 1e-12);
  EXPECT_EQ(rings[0].size(), 4U);  // straight points are left out
}

TEST(RegionAbove, IsAllOrNothingBeyondTheField) {
  const auto values = field(4, 3, [](double, double) { return 2.0; });
  EXPECT_NEAR(area_of(region_above({4, 3, values}, 1.0)), 6.0, 1e-12);
  EXPECT_NEAR(area_of(region_above({4, 3, values}, 2.0)), 6.0, 1e-12);
  EXPECT_TRUE(region_above({4, 3, values}, 3.0).empty());
}

TEST(RegionAbove, AHillIsOneRingAndAPitOneHole) {
  const auto hill = field(9, 9, [](double i, double j) { return -std::hypot(i - 4, j - 4); });
  EXPECT_EQ(region_above({9, 9, hill}, -2.0).size(), 1U);
  const auto pit = field(9, 9, [](double i, double j) { return std::hypot(i - 4, j - 4); });
  const auto rings = region_above({9, 9, pit}, 2.0);
  ASSERT_EQ(rings.size(), 2U);
  EXPECT_LT(area_of({rings[0]}) * area_of({rings[1]}), 0.0);
}

TEST(RegionAbove, ASaddleFollowsItsMiddle) {
  const std::vector<double> values = {1, 0, 0, 1};
  EXPECT_EQ(region_above({2, 2, values}, 0.6).size(), 2U);  // the mean, 0.5, is below
  EXPECT_EQ(region_above({2, 2, values}, 0.4).size(), 1U);
}

TEST(RegionAbove, WhatIsNotANumberIsNeverAbove) {
  const std::vector<double> values = {NAN, 5, 5, NAN, 5, 5};
  const auto rings = region_above({3, 2, values}, 1.0);
  EXPECT_NEAR(area_of(rings), 1.5, 1e-12);
}

TEST(RegionAbove, RefusesALatticeOfOneRow) {
  const std::vector<double> values = {1, 2};
  EXPECT_THROW(region_above({2, 1, values}, 0.0), ContractError);
}

TEST(RegionAbove, AgreesWithTheSlowWayOnRoughFields) {
  std::mt19937 random(20260502);
  std::uniform_real_distribution<double> height(-1.0, 1.0);
  for (int round = 0; round < 200; ++round) {
    const int nx = 2 + round % 7, ny = 2 + round % 5;
    std::vector<double> values(static_cast<std::size_t>(nx * ny));
    for (auto& value : values) value = round % 3 == 0 ? std::round(height(random)) : height(random);
    const Lattice lattice{nx, ny, values};
    for (const double limit : {-0.4, 0.0, 0.3}) {
      EXPECT_NEAR(area_of(region_above(lattice, limit)), area_above(lattice, limit), 1e-9)
          << "round " << round << " limit " << limit;
    }
  }
}

TEST(Simplified, LeavesOutOnlyWhatIsNear) {
  Ring circle;
  for (int k = 0; k < 400; ++k) {
    circle.push_back({50.0 * std::cos(k * M_PI / 200), 50.0 * std::sin(k * M_PI / 200)});
  }
  const auto few = simplified(circle, 0.25);
  EXPECT_LT(few.size(), 60U);
  EXPECT_NEAR(area_of({few}), area_of({circle}), 2 * M_PI * 50.0 * 0.25);
  for (const auto& point : circle) {
    double nearest = 1e9;
    for (std::size_t k = 0; k < few.size(); ++k) {
      const auto &a = few[k], &b = few[(k + 1) % few.size()];
      const double di = b.i - a.i, dj = b.j - a.j;
      const double share =
          std::clamp(((point.i - a.i) * di + (point.j - a.j) * dj) / (di * di + dj * dj), 0.0, 1.0);
      nearest =
          std::min(nearest, std::hypot(point.i - a.i - share * di, point.j - a.j - share * dj));
    }
    EXPECT_LE(nearest, 0.25 + 1e-9);
  }
}

TEST(Simplified, KeepsATriangle) {
  const Ring triangle = {{0, 0}, {1, 0}, {0, 1}};
  EXPECT_EQ(simplified(triangle, 10.0), triangle);
}

}  // namespace
}  // namespace pitwright::picture
