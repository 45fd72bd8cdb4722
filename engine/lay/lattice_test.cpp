#include "lay/lattice.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "lay/lay.h"
#include "lay/practice_lay.h"

namespace pitwright::lay {
namespace {

Lay practice() {
  return make_lay(practice_pit(), practice_runs(), {.nodes_x = 4, .nodes_y = 3}).value();
}

TEST(LatticeMoments, AreThoseOfThePosteriorsMixtures) {
  const auto lay = practice();
  Eigen::MatrixXd places(3, 3);
  places << 0.2, 0.1, 0.15, 0.55, 0.3, 0.35, 0.95, 0.45, 0.05;
  const auto moments = moments_of(*lay.posterior, places);
  for (int i = 0; i < 3; ++i)
    for (int s = 0; s < 2; ++s) {
      const auto law = lay.posterior->run(places.row(i), s);
      EXPECT_NEAR(moments.mean[static_cast<std::size_t>(s)](i), numeric::mean(law), 1e-9);
      EXPECT_NEAR(std::sqrt(moments.variance(s)(i)), numeric::sd(law), 1e-7);
    }
}

TEST(LatticeMoments, DifferenceVarianceIsThatOfTheDifferenceItself) {
  const auto lay = practice();
  const auto& posterior = *lay.posterior;
  const auto& data = posterior.data();
  Eigen::MatrixXd place(1, 3);
  place << 0.7, 0.3, 0.15;
  double mean = 0.0, second = 0.0;
  for (const auto& [weight, solved] : posterior.nodes()) {
    const auto target = targets_at(data, solved.shape, place, Against::level);
    const auto of = [&](int s, int t) { return covariances(data, solved, target, s, t)(0); };
    const double d = means(data, solved, target, 1)(0) - means(data, solved, target, 0)(0);
    const double local = 2.0 * solved.shape.own_share * std::pow(solved.shape.local_k, 2);
    mean += weight * d;
    second += weight * (d * d + of(0, 0) + of(1, 1) - 2.0 * of(0, 1) + local);
  }
  const auto moments = moments_of(posterior, place);
  EXPECT_NEAR(moments.difference_variance(0, 1)(0), second - mean * mean, 1e-9);
}

TEST(LatticeMoments, LevelSpotsOffTheMapStillHoldTheLevel) {
  // Nearly exact thermometers; the left spots, all hot, have no position.
  auto runs = practice_runs();
  for (auto& spot : runs.spots) {
    spot.probe_sd_k = 0.01;
    spot.covariance_k2 = {1e-4, 0.0, 0.0, 1e-4};
    if (*spot.x_m < 0.25) spot.x_m = {};
  }
  const auto lay = make_lay(practice_pit(), runs, {.nodes_x = 4, .nodes_y = 3}).value();
  EXPECT_EQ(lay.unplaced.size(), 3u);
  double sum = 0.0;
  for (const auto& spot : lay.spots) sum += spot.by_setting[0]->run_k;
  EXPECT_LT(sum, -5.0);  // the ones left on the map run cool
  double mapped = 0.0;
  for (const auto& spot : lay.spots) mapped += at(lay, spot.place)[0].run_k;
  EXPECT_NEAR(mapped, sum, 0.5);
}

TEST(LatticeMoments, FewSpotsAreNoted) {
  auto runs = practice_runs();
  const auto is_few = [](const Lay& lay) {
    return std::ranges::find(lay.notes, LayNote::few_spots) != lay.notes.end();
  };
  EXPECT_FALSE(is_few(practice()));
  runs.spots.resize(3);
  EXPECT_TRUE(is_few(make_lay(practice_pit(), runs, {.nodes_x = 4, .nodes_y = 3}).value()));
}

}  // namespace
}  // namespace pitwright::lay
