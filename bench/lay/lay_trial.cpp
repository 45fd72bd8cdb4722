#include "lay/lay_trial.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "base/expects.h"
#include "call/call.h"
#include "lay/lattice.h"
#include "lay/posterior.h"
#include "numeric/random.h"
#include "rehearse/random_pit.h"
#include "rehearse/rehearse.h"
#include "rehearse/scenarios.h"

namespace pitwright::bench {
namespace {

using numeric::Random;
using rehearse::f_deg;

constexpr int hidden_places = 8;
constexpr double probe_sd_k = 1.5 / 1.8;  // of rehearse::random_kit

using Field = std::function<double(double, double, double)>;  ///< of shares 0..1

Field bump(Random& random) {
  const double x = random.uniform(-0.1, 1.1), y = random.uniform(-0.1, 1.1), z = random.uniform();
  const double wx = random.uniform(0.2, 0.6), wy = random.uniform(0.25, 0.8),
               wz = random.uniform(0.5, 1.5);
  return [=](double a, double b, double c) {
    const double r2 =
        std::pow((a - x) / wx, 2) + std::pow((b - y) / wy, 2) + std::pow((c - z) / wz, 2);
    return 3.0 * std::exp(-0.5 * r2);
  };
}

Field tilt(Random& random) {
  const double x = random.normal(), y = 0.7 * random.normal(), z = random.normal();
  return [=](double a, double b, double c) { return 2.0 * (x * a + y * b + z * c); };
}

Field walls(Random& random) {
  const double depth = random.uniform(0.08, 0.25);
  const double left = random.uniform(0, 3), right = random.uniform(0, 3),
               back = random.uniform(0, 2);
  return [=](double a, double b, double) {
    return -left * std::exp(-a / depth) - right * std::exp(-(1 - a) / depth) -
           back * std::exp(-(1 - b) / depth);
  };
}

Field wave(Random& random) {
  const double turns = random.uniform(0.4, 1.3), angle = random.uniform(0, std::numbers::pi),
               phase = random.uniform(0, 2 * std::numbers::pi), up = random.uniform(-0.5, 0.5);
  return [=](double a, double b, double c) {
    const double along = a * std::cos(angle) + b * std::sin(angle) + up * c;
    return std::sin(2 * std::numbers::pi * turns * along + phase);
  };
}

/// A few patterns added up; the sum has about unit size.
Field pattern(Random& random) {
  std::vector<Field> parts;
  const int count = 1 + random.below(3);
  for (int i = 0; i < count; ++i) {
    const int sort = random.below(4);
    parts.push_back(sort == 0   ? bump(random)
                    : sort == 1 ? tilt(random)
                    : sort == 2 ? walls(random)
                                : wave(random));
  }
  const double scale = 1.0 / std::sqrt(static_cast<double>(count));
  return [=](double a, double b, double c) {
    double sum = 0.0;
    for (const auto& part : parts) sum += part(a, b, c);
    return scale * sum;
  };
}

rehearse::Place random_place(Random& random) {
  rehearse::Place place;
  place.lag_s = random.uniform(12, 80);
  place.metal_share = random.uniform(0.2, 0.65);
  place.metal_lag_s = random.uniform(150, 600);
  place.wall_share = random.uniform(0, 0.08);
  place.glow = random.uniform(0, 0.015);
  place.wind_k_s_m = random.uniform(-0.5, 0.5);
  place.eddy_k = random.uniform(0.1, 0.6);
  return place;
}

/// A free place on the grate: the best of a few by distance to the others, as a cook would spread
/// them, or just anywhere.
void put_spot(Random& random, rehearse::PitModel& model, const std::string& name, int grate,
              int tries) {
  double best = -1.0;
  rehearse::Spot chosen;
  for (int k = 0; k < tries; ++k) {
    rehearse::Spot spot;
    spot.x_m = random.uniform(0.08, 0.92) * *model.pit.width_m;
    spot.y_m = random.uniform(0.1, 0.9) * *model.pit.depth_m;
    spot.z_m = *model.pit.grates[static_cast<std::size_t>(grate)].height_m;
    double closest = 1e9;
    for (const auto& other : model.spots)
      if (other.z_m == spot.z_m)
        closest = std::min(closest, std::hypot(other.x_m - spot.x_m, other.y_m - spot.y_m));
    if (closest <= best) continue;
    best = closest;
    chosen = spot;
  }
  chosen.name = name;
  chosen.grate = model.pit.grates[static_cast<std::size_t>(grate)].name;
  chosen.place = random_place(random);
  model.spots.push_back(chosen);
}

void lay_heat(Random& random, rehearse::PitModel& model) {
  const double size_k = f_deg(3.0 * std::pow(5.0, random.uniform()));
  const double own = random.uniform(0.0, 0.9);
  const auto common = pattern(random);
  for (auto& setting : model.settings) {
    const auto alone = pattern(random);
    setting.lean_k.clear();
    for (const auto& spot : model.spots) {
      const double a = spot.x_m / *model.pit.width_m, b = spot.y_m / *model.pit.depth_m,
                   c = spot.z_m / *model.pit.height_m;
      setting.lean_k.push_back(size_k * (common(a, b, c) + own * alone(a, b, c)));
    }
  }
}

}  // namespace

LayTrial lay_trial(std::uint64_t seed) {
  Random random(seed, 77);
  const std::vector<std::string> all{"A", "B", "C"};
  const int settings = 1 + random.below(3);
  const std::vector<std::string> names(all.begin(), all.begin() + settings);
  auto model = rehearse::random_pit(random, names);
  model.spots.clear();
  const int grates = 1 + random.below(2);
  model.pit.grates.resize(static_cast<std::size_t>(grates));
  const int measured = 5 + random.below(8), tries = random.below(2) == 0 ? 1 : 8;
  for (int i = 0; i < measured; ++i)
    put_spot(random, model, "spot " + std::to_string(i + 1), i % grates, tries);
  for (int i = 0; i < hidden_places; ++i)
    put_spot(random, model, "hidden " + std::to_string(i + 1), i % grates, 1);
  lay_heat(random, model);

  auto kit = rehearse::random_kit(random, model);
  for (auto& logger : kit.loggers)
    std::erase_if(logger.thermometers, [&](const rehearse::Thermometer& t) {
      return t.role == Role::air && t.spot >= measured;
    });
  std::vector<std::string> order = names;
  order.insert(order.end(), names.rbegin(), names.rend());
  auto plan = rehearse::plain_plan(order, 1800);
  auto made = rehearse::rehearse(model, kit, plan, seed, {.with_truth = false});
  expects(made.has_value());
  for (auto& probe : made->burn.probes)
    if (probe.role == Role::air) probe.uncertainty = TemperatureDelta::from_kelvins(2 * probe_sd_k);
  const auto report = call::make_call(made->burn, {.as_known_at_s = {}, .needs_stints = false});
  expects(report.has_value());

  LayTrial trial;
  trial.pit = made->burn.pit;
  trial.pit.set_point = {};
  trial.together = report->together;
  const auto truth = rehearse::truth_of(model);
  for (int i = 0; i < std::ssize(model.spots); ++i) {
    const auto& spot = model.spots[static_cast<std::size_t>(i)];
    std::vector<double> runs;
    for (const auto& setting : truth.settings) {
      double level = 0.0;
      int in_level = 0;
      for (const auto& other : trial.together.spots) {
        if (!other.in_level) continue;
        const auto at = std::ranges::find(model.spots, other.spot, &rehearse::Spot::name);
        level += setting.spot_c[static_cast<std::size_t>(at - model.spots.begin())];
        ++in_level;
      }
      runs.push_back(setting.spot_c[static_cast<std::size_t>(i)] - level / in_level);
    }
    const lay::Place place{spot.x_m, spot.y_m, spot.z_m};
    if (i >= measured) {
      trial.hidden.push_back({place, runs});
    } else {
      trial.spots.push_back(place);
      trial.run_k.push_back(runs);
    }
  }
  return trial;
}

void Score::add(double truth, double predicted, double sd, double low, double high) {
  ++count;
  const double e = truth - predicted;
  z += e / sd;
  z2 += e * e / (sd * sd);
  error2 += e * e;
  if (truth >= low && truth <= high) ++covered;
}

double Score::sd_z() const {
  return std::sqrt(z2 / count - mean_z() * mean_z());
}

double Score::rms() const {
  return std::sqrt(error2 / count);
}

namespace {

double distance(const lay::Place& a, const lay::Place& b) {
  return std::hypot(a.x_m - b.x_m, a.y_m - b.y_m, a.z_m - b.z_m);
}

}  // namespace

double inverse_distance(const std::vector<lay::Place>& at, const std::vector<double>& value,
                        const lay::Place& wanted) {
  double sum = 0.0, weights = 0.0;
  for (std::size_t i = 0; i < at.size(); ++i) {
    const double d = std::max(1e-6, distance(at[i], wanted));
    sum += value[i] / (d * d);
    weights += 1.0 / (d * d);
  }
  return sum / weights;
}

double nearest(const std::vector<lay::Place>& at, const std::vector<double>& value,
               const lay::Place& wanted) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < at.size(); ++i)
    if (distance(at[i], wanted) < distance(at[best], wanted)) best = i;
  return value[best];
}

namespace {

/// The 90 % range of a hidden place from the mixture's mean and sd would not be the product's:
/// the posterior is asked.
struct Predicted {
  double mean, sd, low, high;
};

Predicted predicted_of(const numeric::NormalMixture& law) {
  const auto range = numeric::central_interval(law, 0.1);
  return {numeric::mean(law), numeric::sd(law), range.low, range.high};
}

}  // namespace

void score(const LayTrial& trial, LayScores& scores) {
  const auto made = lay::make_lay(trial.pit, trial.together, {.nodes_x = 4, .nodes_y = 3});
  expects(made.has_value());
  ++scores.burns;
  const auto square = [](double e) { return e * e; };
  for (const auto& out : made->leave_one_out) {
    scores.left_out.add(out.measured_k, out.predicted_k, out.sd_k, out.low_k, out.high_k);
    std::vector<lay::Place> at;
    std::vector<double> runs;
    for (int i = 0; i < std::ssize(made->spots); ++i) {
      const auto& spot = made->spots[static_cast<std::size_t>(i)];
      const auto& shown = spot.by_setting[static_cast<std::size_t>(out.setting)];
      if (i == out.spot || !shown) continue;
      at.push_back(spot.place);
      runs.push_back(shown->run_k);
    }
    const auto& wanted = made->spots[static_cast<std::size_t>(out.spot)].place;
    scores.inverse_distance2 += square(out.measured_k - inverse_distance(at, runs, wanted));
    scores.nearest2 += square(out.measured_k - nearest(at, runs, wanted));
  }
  for (const auto& hidden : trial.hidden) {
    Eigen::MatrixXd place(1, 3);
    place << hidden.place.x_m, hidden.place.y_m, hidden.place.z_m;
    for (int s = 0; s < std::ssize(made->settings); ++s) {
      const auto p = predicted_of(made->posterior->run(place, s));
      const double truth = hidden.run_k[static_cast<std::size_t>(s)];
      scores.hidden.add(truth, p.mean, p.sd, p.low, p.high);
      std::vector<lay::Place> at;
      std::vector<double> runs;
      for (const auto& spot : made->spots)
        if (const auto& shown = spot.by_setting[static_cast<std::size_t>(s)]) {
          at.push_back(spot.place);
          runs.push_back(shown->run_k);
        }
      scores.hidden_inverse_distance2 += square(truth - inverse_distance(at, runs, hidden.place));
      scores.hidden_nearest2 += square(truth - nearest(at, runs, hidden.place));
    }
    const auto moments = lay::moments_of(*made->posterior, place);
    for (int s = 0; s < std::ssize(made->settings); ++s)
      for (int t = s + 1; t < std::ssize(made->settings); ++t) {
        const auto a = static_cast<std::size_t>(s), b = static_cast<std::size_t>(t);
        const double mean = moments.mean[b](0) - moments.mean[a](0);
        const double sd = std::sqrt(moments.difference_variance(s, t)(0));
        scores.hidden_differences.add(hidden.run_k[b] - hidden.run_k[a], mean, sd,
                                      mean - 1.645 * sd, mean + 1.645 * sd);
      }
  }
}

}  // namespace pitwright::bench
