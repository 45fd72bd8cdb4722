#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/expects.h"
#include "lay/draws.h"
#include "lay/extremes.h"
#include "lay/leave_one_out.h"
#include "lay/next_spots.h"
#include "lay/posterior.h"
#include "lay/prepare.h"

namespace pitwright::lay {
namespace {

constexpr int posterior_nodes = 24;
constexpr std::uint64_t seed = 1;  ///< of the draws: the same burn gives the same lay
constexpr double z95 = 1.959964;

Grid grid_of(const Lattice& lattice, const Eigen::VectorXd& values) {
  Grid grid;
  for (int y = 0; y < lattice.ny; ++y)
    grid.emplace_back(values.data() + y * lattice.nx, values.data() + (y + 1) * lattice.nx);
  return grid;
}

/// Mean variance of the spots' own places at the first setting: how sharp a map this point makes.
std::vector<double> sharpness(const Data& data, const std::vector<Weighted>& points,
                              const std::vector<Lattice>& grates) {
  Eigen::MatrixXd at(std::ssize(grates) * 6, 3);
  Eigen::Index row = 0;
  for (auto grate : grates) {
    grate.nx = 3;
    grate.ny = 2;
    at.middleRows(row, 6) = grate.places();
    row += 6;
  }
  std::vector<double> rank;
  for (const auto& point : points) {
    const auto targets = targets_at(data, point.solved.shape, at, Against::level);
    rank.push_back(covariances(data, point.solved, targets, 0, 0).mean());
  }
  return rank;
}

Estimate quantiles(const std::vector<Weighted>& points, double (*of)(const Shape&)) {
  std::vector<std::pair<double, double>> values;
  for (const auto& point : points) values.emplace_back(of(point.solved.shape), point.weight);
  std::ranges::sort(values);
  const auto at = [&](double p) {
    double below = 0.0;
    for (const auto& [value, weight] : values)
      if ((below += weight) >= p) return value;
    return values.back().first;
  };
  return {at(0.5), at(0.025), at(0.975)};
}

Scales scales_of(const std::vector<Weighted>& points, int settings) {
  constexpr double missing = std::numeric_limits<double>::quiet_NaN();
  Scales scales{quantiles(points, [](const Shape& s) { return s.size_k; }),
                quantiles(points, [](const Shape& s) { return s.tilt_k; }),
                quantiles(points, [](const Shape& s) { return s.local_k; }),
                {quantiles(points, [](const Shape& s) { return s.length_m(0); }),
                 quantiles(points, [](const Shape& s) { return s.length_m(1); }),
                 quantiles(points, [](const Shape& s) { return s.length_m(2); })},
                quantiles(points, [](const Shape& s) { return s.own_share; })};
  if (settings < 2) scales.own_share = {missing, missing, missing};
  return scales;
}

GrateLay grate_lay(const Lattice& lattice, const Moments& moments, const Draws& draws, int setting,
                   const Within& band, double chance) {
  GrateLay grate;
  grate.grate = lattice.grate;
  grate.z_m = lattice.z_m;
  grate.width_m = lattice.width_m;
  grate.depth_m = lattice.depth_m;
  grate.x0_m = lattice.x0_m;
  grate.y0_m = lattice.y0_m;
  for (int ix = 0; ix < lattice.nx; ++ix) grate.x_m.push_back(lattice.x_m(ix));
  for (int iy = 0; iy < lattice.ny; ++iy) grate.y_m.push_back(lattice.y_m(iy));
  const Eigen::VectorXd variance = moments.variance(setting);
  grate.value_k = grid_of(lattice, moments.mean[static_cast<std::size_t>(setting)]);
  grate.sd_k = grid_of(lattice, variance.cwiseSqrt());
  grate.known = grid_of(lattice, (1.0 - variance.array() / moments.prior_variance.array())
                                     .cwiseMax(0.0)
                                     .cwiseMin(1.0)
                                     .matrix());
  grate.hottest = extreme_of(lattice, moments, draws, setting, 1.0);
  grate.coolest = extreme_of(lattice, moments, draws, setting, -1.0);
  grate.within = band;
  grate.within.share = share_within(draws, band.center_c, band.band_k);
  grate.usable = usable_rectangle(lattice, draws, band.center_c, band.band_k, chance);
  return grate;
}

void fill_differences(const std::vector<Lattice>& grates, const std::vector<Moments>& moments,
                      int settings, Lay& lay) {
  for (int from = 0; from < settings; ++from)
    for (int to = from + 1; to < settings; ++to) {
      DifferenceLay difference{from, to, {}};
      for (std::size_t g = 0; g < grates.size(); ++g) {
        const auto& mean = moments[g].mean;
        difference.grates.push_back(
            {grates[g].grate,
             grid_of(grates[g],
                     mean[static_cast<std::size_t>(to)] - mean[static_cast<std::size_t>(from)]),
             grid_of(grates[g], moments[g].difference_variance(from, to).cwiseSqrt())});
      }
      lay.differences.push_back(std::move(difference));
    }
}

void fill_settings(const Pit& pit, const call::Together& together, const Prepared& prepared,
                   const std::vector<Moments>& moments, const LayOptions& options, Lay& lay) {
  const DrawMaker maker(*lay.posterior, prepared.grates, moments, seed);
  for (int k = 0; k < prepared.data.settings; ++k) {
    const auto s = static_cast<std::size_t>(k);
    const double level = prepared.level_c[s];
    const double half = z95 * std::hypot(prepared.level_sd_k[s], together.level_probe_sd_k);
    Within band{Within::Around::level, level, options.band_k, {}};
    if (options.target_c || pit.set_point) {
      band.around = Within::Around::set_point;
      band.center_c = options.target_c ? *options.target_c : pit.set_point->celsius();
    }
    SettingLay setting{together.settings[static_cast<std::size_t>(prepared.settings[s])],
                       {level, level - half, level + half},
                       {}};
    for (int g = 0; g < std::ssize(prepared.grates); ++g)
      setting.grates.push_back(grate_lay(prepared.grates[static_cast<std::size_t>(g)],
                                         moments[static_cast<std::size_t>(g)], maker.draws(k, g), k,
                                         band, options.chance));
    lay.settings.push_back(std::move(setting));
  }
}

Eigen::MatrixXd places_over(const Patch& patch) {
  constexpr int along = 5;
  const bool point = patch.x_low_m == patch.x_high_m && patch.y_low_m == patch.y_high_m;
  const int n = point ? 1 : along;
  Lattice lattice{"",
                  patch.x_low_m,
                  patch.y_low_m,
                  patch.x_high_m - patch.x_low_m,
                  patch.y_high_m - patch.y_low_m,
                  patch.z_m,
                  n,
                  n};
  return lattice.places();
}

}  // namespace

Result<Lay> make_lay(const Pit& pit, const call::Together& together, const LayOptions& options) {
  expects(options.nodes_x >= 2 && options.nodes_y >= 2 && options.next_spots >= 0);
  auto ready = prepare(pit, together, options.nodes_x, options.nodes_y);
  if (!ready) return std::unexpected(ready.error());
  const auto points = integrate(ready->data);
  Lay lay;
  lay.uncounted = ready->uncounted;
  lay.spots = ready->spots;
  lay.unplaced = ready->unplaced;
  lay.notes = ready->notes;
  lay.scales = scales_of(points, ready->data.settings);
  lay.leave_one_out = leave_one_out(ready->data, points);
  lay.posterior = std::make_shared<const Posterior>(
      ready->data, fewer(points, sharpness(ready->data, points, ready->grates), posterior_nodes),
      ready->level_c, ready->level_sd_k);
  std::vector<Moments> moments;
  for (const auto& grate : ready->grates)
    moments.push_back(moments_of(*lay.posterior, grate.places()));
  fill_settings(pit, together, *ready, moments, options, lay);
  fill_differences(ready->grates, moments, ready->data.settings, lay);
  lay.next_spots = next_spots(*lay.posterior, ready->grates, options.next_spots);
  return lay;
}

std::vector<AtPlace> over(const Lay& lay, const Patch& patch) {
  expects(lay.posterior != nullptr && patch.x_low_m <= patch.x_high_m &&
          patch.y_low_m <= patch.y_high_m);
  const auto places = places_over(patch);
  std::vector<AtPlace> result;
  for (int s = 0; s < lay.posterior->data().settings; ++s) {
    const auto run = lay.posterior->run(places, s), air = lay.posterior->celsius(places, s);
    const auto run_range = numeric::central_interval(run, 0.05);
    const auto air_range = numeric::central_interval(air, 0.05);
    result.push_back({s, numeric::mean(run), numeric::sd(run), run_range.low, run_range.high,
                      numeric::mean(air), air_range.low, air_range.high});
  }
  return result;
}

std::vector<AtPlace> at(const Lay& lay, const Place& place) {
  return over(lay, {place.x_m, place.x_m, place.y_m, place.y_m, place.z_m});
}

}  // namespace pitwright::lay
