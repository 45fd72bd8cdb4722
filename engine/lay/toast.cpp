#include "lay/toast.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include <Eigen/Cholesky>

#include "lay/posterior.h"
#include "numeric/half_t.h"
#include "numeric/students_t.h"

namespace pitwright::lay {
namespace {

constexpr double z95 = 1.959964;
constexpr std::size_t most_readings = 120;  ///< more are averaged over cells first
constexpr int cells_x = 12, cells_y = 10;
constexpr int nodes = 6;         ///< of the lay's posterior
constexpr int kept_points = 20;  ///< of the integration, for the maps
/// Of d / b, what the instrument sees beside the air: sizes with a half-t prior, lengths as shares
/// of the grate's, equally likely. Our own choice.
constexpr double radiant_prior_k = 4.0;
constexpr std::array radiant_k{0.4, 1.0, 2.5, 6.3};
constexpr std::array radiant_lengths{0.15, 0.35, 0.8};
constexpr int slopes = 13;
constexpr double slope_log_sd = 1.0, slope_reach_sds = 2.6;

/// The readings as vectors.
struct Readings {
  Eigen::MatrixXd places;
  Eigen::VectorXd value, variance;
};

/// Averages what lies in one cell of the grate, weighted by how sure each is.
std::vector<ToastReading> thinned(const std::vector<ToastReading>& readings,
                                  const GrateLay& grate) {
  if (readings.size() <= most_readings) return readings;
  std::vector<ToastReading> cells(static_cast<std::size_t>(cells_x * cells_y),
                                  {0.0, 0.0, 0.0, 0.0});
  for (const auto& r : readings) {
    const int ix = std::clamp(static_cast<int>((r.x_m - grate.x0_m) / grate.width_m * cells_x), 0,
                              cells_x - 1);
    const int iy = std::clamp(static_cast<int>((r.y_m - grate.y0_m) / grate.depth_m * cells_y), 0,
                              cells_y - 1);
    auto& cell = cells[static_cast<std::size_t>(iy * cells_x + ix)];
    const double weight = 1.0 / r.variance;
    cell.x_m += weight * r.x_m;
    cell.y_m += weight * r.y_m;
    cell.value += weight * r.value;
    cell.variance += weight;
  }
  std::erase_if(cells, [](const ToastReading& cell) { return cell.variance == 0.0; });
  for (auto& cell : cells)
    cell = {cell.x_m / cell.variance, cell.y_m / cell.variance, cell.value / cell.variance,
            1.0 / cell.variance};
  return cells;
}

double sd_of(const Eigen::VectorXd& v) {
  return std::sqrt((v.array() - v.mean()).square().mean());
}

/// Normal scores: each value becomes the normal quantile of its rank; equal ones share theirs.
void put_on_scores(Readings& readings) {
  const auto n = readings.value.size();
  const double before = sd_of(readings.value);
  Eigen::VectorXd scores(n);
  const numeric::NormalMixture standard{{{1.0, 0.0, 1.0}}};
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto below = (readings.value.array() < readings.value(i)).count();
    const auto same = (readings.value.array() == readings.value(i)).count();
    scores(i) = numeric::lower_quantile(
        standard,
        (static_cast<double>(below) + 0.5 * static_cast<double>(same)) / static_cast<double>(n));
  }
  readings.value = scores;
  readings.variance *= std::pow(sd_of(scores) / before, 2);
}

Readings readings_of(const std::vector<ToastReading>& list, double z_m, bool ranked) {
  const auto n = std::ssize(list);
  Readings readings{Eigen::MatrixXd(n, 3), Eigen::VectorXd(n), Eigen::VectorXd(n)};
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto& r = list[static_cast<std::size_t>(i)];
    readings.places.row(i) << r.x_m, r.y_m, z_m;
    readings.value(i) = r.value;
    readings.variance(i) = r.variance;
  }
  if (ranked) put_on_scores(readings);
  return readings;
}

/// What the thermometers say of the air at the readings' places, at one node of the lay.
struct Air {
  const Weighted* node;
  Eigen::VectorXd mean;
  Eigen::MatrixXd covariance;
  double local2;
};

/// One point of the integration: slope, radiant field, node.
struct Point {
  double log_weight, weight, slope, radiant_k;
  Shape radiant;
  std::size_t air;
};

/// readings ~ N(a + b mean, b^2 (covariance + local + radiant) + variance), a flat.
struct Fit {
  Eigen::LLT<Eigen::MatrixXd> factor;
  Eigen::VectorXd ones, rest;  ///< V^-1 1 and V^-1 (readings - a - b mean)
  double offset, offset_variance, log_likelihood;
};

Fit fit(const Readings& readings, const Air& air, const Point& point) {
  const auto n = readings.value.size();
  const double b2 = point.slope * point.slope;
  Eigen::MatrixXd V =
      b2 * (air.covariance + point.radiant_k * point.radiant_k *
                                 correlations(point.radiant, readings.places, readings.places));
  V.diagonal() += readings.variance;
  V.diagonal().array() += b2 * air.local2;
  Fit result{Eigen::LLT<Eigen::MatrixXd>(V), {}, {}, 0.0, 0.0, 0.0};
  const Eigen::VectorXd y = readings.value - point.slope * air.mean;
  result.ones = result.factor.solve(Eigen::VectorXd::Ones(n));
  result.offset_variance = 1.0 / result.ones.sum();
  result.offset = result.offset_variance * result.ones.dot(y);
  const Eigen::VectorXd centered = y.array() - result.offset;
  result.rest = result.factor.solve(centered);
  result.log_likelihood = -0.5 * centered.dot(result.rest) -
                          result.factor.matrixLLT().diagonal().array().log().sum() +
                          0.5 * std::log(result.offset_variance);
  return result;
}

std::vector<Air> airs_of(const Posterior& posterior, const std::vector<Weighted>& chosen,
                         const Readings& readings, int setting) {
  std::vector<Air> airs;
  for (const auto& node : chosen) {
    const auto& data = posterior.data();
    const auto targets = targets_at(data, node.solved.shape, readings.places, Against::level);
    airs.push_back({&node,
                    (means(data, node.solved, targets, setting).array() - data.unplaced_k(setting)),
                    run_covariances(data, node.solved, readings.places, readings.places, setting),
                    node.solved.shape.local_k * node.solved.shape.local_k});
  }
  return airs;
}

/// The grid over slope, radiant size and length and the lay's nodes, weighed.
std::vector<Point> points_of(const Readings& readings, const std::vector<Air>& airs,
                             const GrateLay& grate, double height_m) {
  double air2 = 0.0;
  for (const auto& air : airs)
    air2 += air.node->weight * (std::pow(sd_of(air.mean), 2) + air.covariance.diagonal().mean());
  const double usual = sd_of(readings.value) / std::sqrt(air2 + 4.0);
  std::vector<Point> points;
  for (std::size_t a = 0; a < airs.size(); ++a)
    for (const double size : radiant_k)
      for (const double length : radiant_lengths)
        for (int k = 0; k < slopes; ++k) {
          const double z = slope_reach_sds * (2.0 * k / (slopes - 1) - 1.0);
          Point point{0.0, 0.0, usual * std::exp(slope_log_sd * z), size, {}, a};
          point.radiant.length_m = {length * grate.width_m, length * grate.depth_m, height_m};
          point.log_weight = std::log(airs[a].node->weight) - 0.5 * z * z +
                             numeric::log_half_t4(size, radiant_prior_k) + std::log(size) +
                             fit(readings, airs[a], point).log_likelihood;
          points.push_back(point);
        }
  double top = -HUGE_VAL, sum = 0.0;
  for (const auto& point : points) top = std::max(top, point.log_weight);
  for (auto& point : points) sum += point.weight = std::exp(point.log_weight - top);
  for (auto& point : points) point.weight /= sum;
  return points;
}

/// Those that stand for all: evenly spaced ranks, in order of slope.
std::vector<Point> chosen_of(std::vector<Point> points) {
  std::ranges::stable_sort(points, {}, &Point::slope);
  std::vector<Point> chosen;
  double below = 0.0;
  int taken = 0;
  for (auto& point : points) {
    below += point.weight;
    const int before = taken;
    while (taken < kept_points && below >= (taken + 0.5) / kept_points) ++taken;
    if (taken == before) continue;
    point.weight = static_cast<double>(taken - before) / kept_points;
    chosen.push_back(point);
  }
  return chosen;
}

/// Mixtures gathered on the lattice.
struct Maps {
  Eigen::ArrayXd run, run2, radiant, radiant2, disagree;
};

void add_to(Maps& maps, const Posterior& posterior, const Readings& readings, const Air& air,
            const Point& point, const Eigen::MatrixXd& lattice, int setting, double matters_k) {
  const auto& data = posterior.data();
  const auto& solved = air.node->solved;
  const Fit now = fit(readings, air, point);
  const auto targets = targets_at(data, solved.shape, lattice, Against::level);
  const double b = point.slope, d2 = point.radiant_k * point.radiant_k;
  const Eigen::MatrixXd of_run =
      b * run_covariances(data, solved, readings.places, lattice, setting);
  const Eigen::MatrixXd of_radiant = b * d2 * correlations(point.radiant, readings.places, lattice);
  // Variance taken away: c' V^-1 c, less what the unknown offset gives back.
  const auto taken = [&](const Eigen::MatrixXd& c) -> Eigen::ArrayXd {
    const Eigen::MatrixXd half = now.factor.matrixL().solve(c);
    const Eigen::ArrayXd given_back = (c.transpose() * now.ones).array();
    return half.colwise().squaredNorm().transpose().array() -
           now.offset_variance * given_back.square();
  };
  const Eigen::ArrayXd run =
      (means(data, solved, targets, setting) + of_run.transpose() * now.rest).array() -
      data.unplaced_k(setting);
  const Eigen::ArrayXd run_variance =
      (covariances(data, solved, targets, setting, setting).array() - taken(of_run)).max(1e-9) +
      air.local2;
  const Eigen::ArrayXd radiant = (of_radiant.transpose() * now.rest).array();
  const Eigen::ArrayXd radiant_variance = (d2 - taken(of_radiant)).max(1e-9);
  maps.run += point.weight * run;
  maps.run2 += point.weight * (run.square() + run_variance);
  maps.radiant += point.weight * radiant;
  maps.radiant2 += point.weight * (radiant.square() + radiant_variance);
  for (Eigen::Index i = 0; i < radiant.size(); ++i) {
    const double sd = std::sqrt(radiant_variance(i));
    maps.disagree(i) += point.weight * (numeric::normal_cdf((radiant(i) - matters_k) / sd) +
                                        numeric::normal_cdf((-radiant(i) - matters_k) / sd));
  }
}

Grid grid_of(const GrateLay& grate, const Eigen::ArrayXd& values) {
  Grid grid;
  const auto nx = std::ssize(grate.x_m);
  for (std::ptrdiff_t y = 0; y < std::ssize(grate.y_m); ++y)
    grid.emplace_back(values.data() + y * nx, values.data() + (y + 1) * nx);
  return grid;
}

Eigen::ArrayXd sds(const Eigen::ArrayXd& mean, const Eigen::ArrayXd& second) {
  return (second - mean.square()).max(0.0).sqrt();
}

void fill_scale(const Readings& readings, const std::vector<Air>& airs,
                const std::vector<Point>& points, ToastLay& toast) {
  double mean = 0.0, second = 0.0;
  std::vector<numeric::Component> offsets;
  Eigen::VectorXd air = Eigen::VectorXd::Zero(readings.value.size());
  for (const auto& point : points) {
    const double log_slope = std::log(point.slope);
    mean += point.weight * log_slope;
    second += point.weight * log_slope * log_slope;
    const auto now = fit(readings, airs[point.air], point);
    offsets.push_back({point.weight, now.offset, std::sqrt(now.offset_variance)});
    air += point.weight * airs[point.air].mean;
  }
  const double half = z95 * std::sqrt(std::max(0.0, second - mean * mean));
  toast.slope = {std::exp(mean), std::exp(mean - half), std::exp(mean + half)};
  const auto law = numeric::normalized(std::move(offsets));
  const auto range = numeric::central_interval(law, 0.05);
  toast.offset = {numeric::mean(law), range.low, range.high};
  const Eigen::ArrayXd x = air.array() - air.mean();
  const Eigen::ArrayXd y = readings.value.array() - readings.value.mean();
  const double size = std::sqrt(x.square().sum() * y.square().sum());
  toast.agreement = size > 0.0 ? (x * y).sum() / size : 0.0;
}

Result<void> check(const Lay& lay, int setting, int grate,
                   const std::vector<ToastReading>& readings) {
  if (setting < 0 || setting >= std::ssize(lay.settings))
    return fail(ErrorKind::bad_input, "the lay has no setting number {}", setting + 1);
  const auto& grates = lay.settings[static_cast<std::size_t>(setting)].grates;
  if (grate < 0 || grate >= std::ssize(grates))
    return fail(ErrorKind::bad_input, "the lay has no grate number {}", grate + 1);
  if (readings.size() < 4)
    return fail(ErrorKind::bad_input,
                "{} readings are too few for a map: give four or more that cover the grate",
                readings.size());
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const auto& r : readings) {
    if (!std::isfinite(r.x_m) || !std::isfinite(r.y_m) || !std::isfinite(r.value) ||
        !(r.variance > 0.0))
      return fail(ErrorKind::bad_input,
                  "a reading at x = {} m, y = {} m has no number or no positive variance", r.x_m,
                  r.y_m);
    low = std::min(low, r.value);
    high = std::max(high, r.value);
  }
  if (!(high > low))
    return fail(ErrorKind::bad_input,
                "all readings are equal ({}): they show no pattern, check the exposure", low);
  return {};
}

}  // namespace

Result<ToastLay> lay_with_toast(const Lay& lay, int setting, int grate,
                                const std::vector<ToastReading>& readings, double matters_k,
                                const ToastOptions& options) {
  if (auto fine = check(lay, setting, grate, readings); !fine) return std::unexpected(fine.error());
  const auto& of = lay.settings[static_cast<std::size_t>(setting)];
  const auto& map = of.grates[static_cast<std::size_t>(grate)];
  const auto& posterior = *lay.posterior;
  const auto toasted = readings_of(thinned(readings, map), map.z_m, options.ranked);
  std::vector<double> rank(posterior.nodes().size());
  std::iota(rank.begin(), rank.end(), 0.0);
  const auto few = fewer(posterior.nodes(), rank, nodes);
  const auto airs = airs_of(posterior, few, toasted, setting);
  const auto points = points_of(toasted, airs, map, posterior.data().extent(2));

  ToastLay toast;
  toast.setting = of.setting;
  toast.grate = map.grate;
  toast.x_m = map.x_m;
  toast.y_m = map.y_m;
  fill_scale(toasted, airs, points, toast);
  const auto m = std::ssize(map.x_m) * std::ssize(map.y_m);
  Eigen::MatrixXd lattice(m, 3);
  for (std::size_t y = 0, i = 0; y < map.y_m.size(); ++y)
    for (std::size_t x = 0; x < map.x_m.size(); ++x, ++i)
      lattice.row(static_cast<Eigen::Index>(i)) << map.x_m[x], map.y_m[y], map.z_m;
  const Eigen::ArrayXd zero = Eigen::ArrayXd::Zero(m);
  Maps maps{zero, zero, zero, zero, zero};
  for (const auto& point : chosen_of(points))
    add_to(maps, posterior, toasted, airs[point.air], point, lattice, setting, matters_k);
  toast.value_k = grid_of(map, maps.run);
  toast.sd_k = grid_of(map, sds(maps.run, maps.run2));
  toast.radiant_k = grid_of(map, maps.radiant);
  toast.radiant_sd_k = grid_of(map, sds(maps.radiant, maps.radiant2));
  toast.disagree = grid_of(map, maps.disagree);
  return toast;
}

}  // namespace pitwright::lay
