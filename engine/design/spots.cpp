#include "design/spots.h"

#include <algorithm>
#include <cmath>
#include <set>

#include <Eigen/Cholesky>
#include <fmt/format.h>

#include "base/expects.h"

namespace pitwright::design {
namespace {

constexpr int least_with_sensor = 5;
constexpr int least_for_lay = 4;
constexpr int least_with_center = 5;
constexpr double near_wall = 0.12;      // share of the chamber between a wall and a spot
constexpr double smooth_length = 0.6;   // of the Matern surface, in shares of the chamber
constexpr double slope_variance = 9.0;  // of the plane from end to end; the surface has 1
constexpr double level_variance = 25.0;
constexpr double reading_variance = 0.05;
constexpr double tilt_weight = 0.1;    // of the tilts beside the map
constexpr double better = 1.0 - 1e-9;  // ties go to the place named first

struct Place {
  double x, y, z;  ///< shares
  int grate;
};

int grates_of(const Pit& pit) {
  return std::max(1, static_cast<int>(pit.grates.size()));
}

double z_share(const Pit& pit, int grate) {
  const int n = grates_of(pit);
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const auto& g : pit.grates) {
    if (!g.height_m) return n > 1 ? static_cast<double>(grate) / (n - 1) : 0.5;
    low = std::min(low, *g.height_m);
    high = std::max(high, *g.height_m);
  }
  if (pit.grates.empty() || high <= low) return 0.5;
  return (*pit.grates[static_cast<std::size_t>(grate)].height_m - low) / (high - low);
}

/// `across` by `across` places on every grate: the center first, then the corners, then the rest.
std::vector<Place> lattice(const Pit& pit, int across) {
  std::vector<Place> all;
  for (int g = 0; g < grates_of(pit); ++g)
    for (int i = 0; i < across; ++i)
      for (int j = 0; j < across; ++j)
        all.push_back({std::lerp(near_wall, 1.0 - near_wall, i / (across - 1.0)),
                       std::lerp(near_wall, 1.0 - near_wall, j / (across - 1.0)), z_share(pit, g),
                       g});
  const auto rank = [](const Place& p) {
    const double out = std::abs(p.x - 0.5) + std::abs(p.y - 0.5);
    return out < 0.01 ? -1.0 : -out + 1.0;
  };
  std::ranges::stable_sort(all, {}, rank);
  return all;
}

/// Covariance of the lay between two places.
///   plane: level + slope (x x' + y y' + z z') about the center;
///   surface: (1 + r + r^2 / 3) exp(-r), r = sqrt(5) distance / length
/// Source: Rasmussen & Williams, "Gaussian Processes for Machine Learning" (2006), eq. 4.17.
double covariance(const Place& a, const Place& b) {
  const double plane =
      level_variance + slope_variance * ((a.x - 0.5) * (b.x - 0.5) + (a.y - 0.5) * (b.y - 0.5) +
                                         (a.z - 0.5) * (b.z - 0.5));
  const double d = std::hypot(a.x - b.x, a.y - b.y, a.z - b.z);
  const double r = std::sqrt(5.0) * d / smooth_length;
  return plane + (1.0 + r + r * r / 3.0) * std::exp(-r);
}

/// Mean variance over the targets once the places are read.
double mean_variance(const std::vector<Place>& places, const std::vector<Place>& targets) {
  const auto n = std::ssize(places), m = std::ssize(targets);
  Eigen::MatrixXd K(n, n), T(n, m);
  double before = 0.0;
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto& p = places[static_cast<std::size_t>(i)];
    for (Eigen::Index j = 0; j < n; ++j)
      K(i, j) = covariance(p, places[static_cast<std::size_t>(j)]);
    K(i, i) += reading_variance;
    for (Eigen::Index j = 0; j < m; ++j)
      T(i, j) = covariance(p, targets[static_cast<std::size_t>(j)]);
  }
  for (const auto& t : targets) before += covariance(t, t);
  const Eigen::LLT<Eigen::MatrixXd> factor(K);
  expects(factor.info() == Eigen::Success);
  return (before - factor.matrixL().solve(T).squaredNorm()) / static_cast<double>(m);
}

/// Variance of the three slopes, each end to end of the chamber, of readings that err
/// independently.
///   sum over the axes of 1 / (sum (x - mean x)^2); an axis without spread counts as a hundred
double slope_variance_of(const std::vector<Place>& places) {
  const auto n = static_cast<double>(places.size());
  double sum = 0.0;
  for (const auto axis : {&Place::x, &Place::y, &Place::z}) {
    double mean = 0.0, squares = 0.0;
    for (const auto& p : places) mean += p.*axis / n;
    for (const auto& p : places) squares += (p.*axis - mean) * (p.*axis - mean);
    sum += 1.0 / (squares + 0.01);
  }
  return sum;
}

/// What the places are chosen by: the map's mean variance and that of the tilts.
double cost(const std::vector<Place>& places, const std::vector<Place>& targets) {
  return mean_variance(places, targets) + tilt_weight * slope_variance_of(places);
}

bool taken(const std::vector<Place>& places, const Place& p) {
  return std::ranges::any_of(places, [&](const Place& q) {
    return std::abs(p.x - q.x) < 1e-6 && std::abs(p.y - q.y) < 1e-6 && p.grate == q.grate;
  });
}

/// Adds `count` places to the fixed ones: the best next one each time, then exchanges one at a time
/// while that helps.
std::vector<Place> best_places(const std::vector<Place>& fixed, int count,
                               const std::vector<Place>& candidates,
                               const std::vector<Place>& targets) {
  auto places = fixed;
  const auto improve = [&](std::size_t at, double best) {
    const auto before = places[at];
    auto kept = before;
    for (const auto& candidate : candidates) {
      if (taken(places, candidate)) continue;
      const auto now = places[at];
      places[at] = candidate;
      const double value = cost(places, targets);
      if (value < better * best) {
        best = value;
        kept = candidate;
      }
      places[at] = now;
    }
    places[at] = kept;
    return best;
  };
  for (int k = 0; k < count; ++k) {
    const auto free =
        std::ranges::find_if(candidates, [&](const Place& c) { return !taken(places, c); });
    expects(free != candidates.end());
    places.push_back(*free);
    improve(places.size() - 1, cost(places, targets));
  }
  constexpr int most_rounds = 20;
  double best = cost(places, targets);
  for (int round = 0; round < most_rounds; ++round) {
    const double start = best;
    for (auto at = fixed.size(); at < places.size(); ++at) best = improve(at, best);
    if (best >= better * start) break;
  }
  return places;
}

std::string place_name(const Place& p) {
  constexpr double third = 1.0 / 3.0;
  const std::string side = p.x < third ? "left" : p.x > 2.0 * third ? "right" : "";
  const std::string deep = p.y < third ? "front" : p.y > 2.0 * third ? "back" : "";
  if (side.empty() && deep.empty()) return "center";
  if (side.empty()) return deep + " center";
  if (deep.empty()) return side + " center";
  return side + " " + deep;
}

/// Names and metres of a place; a second spot of one name gets a number.
PlannedSpot spot_of(const Pit& pit, const Place& p, std::multiset<std::string>& names) {
  PlannedSpot spot;
  spot.name = place_name(p);
  if (!pit.grates.empty()) {
    const auto& grate = pit.grates[static_cast<std::size_t>(p.grate)];
    spot.grate = grate.name;
    spot.z_m = grate.height_m;
    if (pit.grates.size() > 1) spot.name = grate.name + " " + spot.name;
  }
  names.insert(spot.name);
  if (const auto same = names.count(spot.name); same > 1) spot.name += fmt::format(" {}", same);
  spot.x_share = p.x;
  spot.y_share = p.y;
  if (grates_of(pit) > 1) spot.z_share = p.z;
  if (pit.width_m) spot.x_m = p.x * *pit.width_m;
  if (pit.depth_m) spot.y_m = p.y * *pit.depth_m;
  return spot;
}

/// The sensor's own place, at the height of the grate nearest to it.
std::optional<Place> sensor_place(const Pit& pit, const Habits& habits) {
  if (!habits.sensor_x_m || !habits.sensor_y_m || !pit.width_m || !pit.depth_m) return std::nullopt;
  int nearest = 0;
  double least = HUGE_VAL;
  for (int g = 0; g < std::ssize(pit.grates); ++g) {
    const auto& height = pit.grates[static_cast<std::size_t>(g)].height_m;
    if (!height || !habits.sensor_z_m) continue;
    const double away = std::abs(*height - *habits.sensor_z_m);
    if (away < least) {
      least = away;
      nearest = g;
    }
  }
  return Place{std::clamp(*habits.sensor_x_m / *pit.width_m, 0.0, 1.0),
               std::clamp(*habits.sensor_y_m / *pit.depth_m, 0.0, 1.0), z_share(pit, nearest),
               nearest};
}

std::vector<Missing> missing_of(const Pit& pit, const Habits& habits) {
  std::vector<Missing> missing;
  if (!pit.width_m) missing.push_back(Missing::width);
  if (!pit.depth_m) missing.push_back(Missing::depth);
  if (pit.grates.empty()) missing.push_back(Missing::grates);
  if (std::ranges::any_of(pit.grates, [](const Grate& g) { return !g.height_m; }))
    missing.push_back(Missing::grate_height);
  if (!habits.sensor_x_m || !habits.sensor_y_m) missing.push_back(Missing::sensor_place);
  return missing;
}

/// The spot nearest to the middle of the chamber.
int central(const std::vector<PlannedSpot>& spots) {
  int best = 0;
  double least = HUGE_VAL;
  for (int i = 0; i < std::ssize(spots); ++i) {
    const auto& s = spots[static_cast<std::size_t>(i)];
    if (!s.x_share || s.beside_sensor) continue;
    const double away =
        std::hypot(*s.x_share - 0.5, *s.y_share - 0.5, s.z_share.value_or(0.5) - 0.5);
    if (away < least - 1e-9) {
      least = away;
      best = i;
    }
  }
  return best;
}

/// All at once, or the anchor with as many others as there are probes left.
std::vector<std::vector<int>> rounds_of(int spots, int probes, int anchor) {
  std::vector<std::vector<int>> rounds;
  std::vector<int> round;
  for (int i = 0; i < spots; ++i) {
    if (i == anchor) continue;
    if (round.empty()) round.push_back(anchor);
    round.push_back(i);
    if (std::ssize(round) < probes) continue;
    rounds.push_back(round);
    round.clear();
  }
  if (!round.empty()) rounds.push_back(round);
  if (rounds.empty()) rounds.push_back({anchor});
  return rounds;
}

}  // namespace

int most_probes(const Pit& pit) {
  return 25 * grates_of(pit);
}

SpotPlan choose_spots(const Pit& pit, const Habits& habits, int probes) {
  expects(probes >= 1 && probes <= most_probes(pit));
  // Two probes reach four spots in three rounds, three reach five in two.
  const int wanted = probes >= least_for_lay ? probes : probes == 1 ? 1 : probes + 2;
  const bool has_sensor = probes >= least_with_sensor;
  const auto sensor = has_sensor ? sensor_place(pit, habits) : std::nullopt;
  std::vector<Place> fixed;
  if (sensor) fixed.push_back(*sensor);
  int free = wanted - (has_sensor ? 1 : 0);
  // On a single grate cooks want the center beside the corners, as surveys of chambers do.
  if (grates_of(pit) == 1 && free >= least_with_center) {
    fixed.push_back({0.5, 0.5, z_share(pit, 0), 0});
    --free;
  }
  const auto places =
      best_places(fixed, free, lattice(pit, free > 9 * grates_of(pit) ? 5 : 3), lattice(pit, 5));
  SpotPlan plan;
  std::multiset<std::string> names;
  for (std::size_t i = sensor ? 1 : 0; i < places.size(); ++i)
    plan.spots.push_back(spot_of(pit, places[i], names));
  // Read like a page: grate by grate, from left to right, from front to back.
  std::ranges::stable_sort(plan.spots, [](const PlannedSpot& a, const PlannedSpot& b) {
    const auto key = [](const PlannedSpot& s) {
      return std::tuple(s.z_share.value_or(0.0), *s.x_share, *s.y_share);
    };
    return key(a) < key(b);
  });
  if (has_sensor) {
    PlannedSpot spot;
    std::multiset<std::string> none;
    if (sensor) spot = spot_of(pit, *sensor, none);
    spot.name = "beside the pit's own sensor";
    spot.beside_sensor = true;
    plan.spots.push_back(std::move(spot));
  }
  plan.anchor = central(plan.spots);
  plan.rounds = rounds_of(static_cast<int>(plan.spots.size()), probes, plan.anchor);
  plan.missing = missing_of(pit, habits);
  return plan;
}

std::array<std::optional<double>, 3> tilt_factors(const SpotPlan& plan,
                                                  const std::vector<int>& round) {
  std::array<std::optional<double>, 3> factors;
  const std::array shares{&PlannedSpot::x_share, &PlannedSpot::y_share, &PlannedSpot::z_share};
  for (std::size_t axis = 0; axis < shares.size(); ++axis) {
    std::vector<double> at;
    for (const int i : round)
      if (const auto& x = plan.spots[static_cast<std::size_t>(i)].*shares[axis]) at.push_back(*x);
    if (at.size() < 2) continue;
    double mean = 0.0, squares = 0.0;
    for (const double x : at) mean += x / static_cast<double>(at.size());
    for (const double x : at) squares += (x - mean) * (x - mean);
    const auto [low, high] = std::ranges::minmax(at);
    // The sum of c_i^2 is extent^2 / sum (x - mean)^2.
    if (high - low > 0.02) factors[axis] = (high - low) / std::sqrt(squares);
  }
  return factors;
}

}  // namespace pitwright::design
