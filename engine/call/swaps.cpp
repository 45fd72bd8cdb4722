#include "call/swaps.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <span>
#include <string>
#include <utility>

#include <Eigen/Dense>

#include "series/smooth.h"

namespace pitwright::call {
namespace {

constexpr double expected_sd_k = 0.4;  ///< of a stint's mean about the model, before the data
constexpr double expected_weight = 2.0;
constexpr double told_standard_errors = 2.5;
constexpr double told_share = 0.2;         ///< of *matters*
constexpr double shortest_read_s = 300.0;  ///< a thermometer counts in a stint from here on
constexpr double estimable = 1e-9;         ///< squared length of what the data leave of a contrast

std::string place_of(const Probe& probe) {
  return probe.spot.empty() ? probe.channel : probe.spot;
}

/// One thermometer at one spot for a stretch of time.
struct Sitting {
  std::string channel;
  int spot;  ///< of Panel::spots
  double from_s, to_s;
};

std::vector<Sitting> sittings_of(const Burn& burn, const Panel& panel) {
  std::vector<Sitting> out;
  for (const auto& probe : burn.probes) {
    if (probe.role != Role::air || probe.readings.seconds.empty()) continue;
    const auto spot = std::ranges::find(panel.spots, place_of(probe), &PanelSpot::spot);
    if (spot == panel.spots.end()) continue;
    out.push_back({probe.channel, static_cast<int>(spot - panel.spots.begin()),
                   probe.readings.seconds.front(), probe.readings.seconds.back()});
  }
  return out;
}

/// Spots at which thermometers followed one another; those at which two sat at once tell nothing
/// here.
std::set<int> shared_spots(const std::vector<Sitting>& sittings) {
  std::set<int> shared, crowded;
  for (std::size_t i = 0; i < sittings.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      const auto &a = sittings[i], &b = sittings[k];
      if (a.spot != b.spot || a.channel == b.channel) continue;
      const bool at_once = a.from_s < b.to_s && b.from_s < a.to_s;
      (at_once ? crowded : shared).insert(a.spot);
    }
  }
  for (const int spot : crowded) shared.erase(spot);
  return shared;
}

std::vector<double> reference_of(const Panel& panel, const std::set<int>& shared) {
  std::vector<std::span<const double>> kept;
  for (int i = 0; i < std::ssize(panel.spots); ++i) {
    const auto& spot = panel.spots[static_cast<std::size_t>(i)];
    const bool is_suspect = std::ranges::any_of(panel.troubles, [&](const Trouble& trouble) {
      return (trouble.code == TroubleCode::probe_touching ||
              trouble.code == TroubleCode::probe_jump) &&
             trouble.where == spot.channel;
    });
    if (!shared.contains(i) && !is_suspect) kept.emplace_back(spot.celsius);
  }
  if (kept.empty())
    for (const auto& spot : panel.spots) kept.emplace_back(spot.celsius);
  return series::common_of(kept, panel.n).common;
}

/// A stint's mean of one thermometer at one spot.
struct Cell {
  int spot, setting, thermometer;
  double mean_k;
};

std::vector<Cell> cells_of(const Panel& panel, const Windows& windows,
                           const std::vector<Sitting>& sittings, const std::set<int>& shared,
                           std::vector<std::string>& thermometers) {
  const auto reference = reference_of(panel, shared);
  std::vector<Cell> cells;
  for (const auto& sitting : sittings) {
    if (!shared.contains(sitting.spot)) continue;
    auto name = std::ranges::find(thermometers, sitting.channel);
    if (name == thermometers.end()) name = thermometers.insert(name, sitting.channel);
    const auto& celsius = panel.spots[static_cast<std::size_t>(sitting.spot)].celsius;
    for (const auto& stint : windows.stints) {
      if (!stint.counted_from_s || stint.state == StintState::spoiled) continue;
      double sum = 0.0;
      int count = 0;
      for (int j = 0; j < panel.n; ++j) {
        const auto i = static_cast<std::size_t>(j);
        const double t = panel.start_s + (j + 0.5) * panel.step_s;
        if (t < std::max(*stint.counted_from_s, sitting.from_s) ||
            t > std::min(*stint.counted_to_s, sitting.to_s) || windows.excluded[i] != 0)
          continue;
        const double d = celsius[i] - reference[i];
        if (!std::isfinite(d)) continue;
        sum += d;
        ++count;
      }
      if (count * panel.step_s < shortest_read_s) continue;
      cells.push_back({sitting.spot, stint.setting, static_cast<int>(name - thermometers.begin()),
                       sum / count});
    }
  }
  return cells;
}

struct Fit {
  Eigen::VectorXd effect;      ///< of the thermometers; only differences mean anything
  Eigen::MatrixXd covariance;  ///< of theirs, where estimable
  Eigen::MatrixXd kept;        ///< what of a contrast the data can tell
};

Fit fit_of(const std::vector<Cell>& cells, int thermometers) {
  std::map<std::pair<int, int>, int> seats;
  for (const auto& cell : cells) seats.try_emplace({cell.spot, cell.setting}, 0);
  int next = thermometers;
  for (auto& [seat, column] : seats) column = next++;
  const auto n = std::ssize(cells);
  Eigen::MatrixXd x = Eigen::MatrixXd::Zero(n, next);
  Eigen::VectorXd y(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto& cell = cells[static_cast<std::size_t>(i)];
    x(i, cell.thermometer) = 1.0;
    x(i, seats.at({cell.spot, cell.setting})) = 1.0;
    y(i) = cell.mean_k;
  }
  const Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> qr(x);
  const Eigen::MatrixXd inverse = qr.pseudoInverse();
  const Eigen::VectorXd all = inverse * y;
  const double freedom = static_cast<double>(n - qr.rank());
  const double variance =
      ((y - x * all).squaredNorm() + expected_weight * expected_sd_k * expected_sd_k) /
      (freedom + expected_weight);
  return {all.head(thermometers),
          variance * (inverse * inverse.transpose()).topLeftCorner(thermometers, thermometers),
          inverse * x};
}

}  // namespace

std::vector<Trouble> probe_offsets(const Burn& burn, const Panel& panel, const Windows& windows) {
  const auto sittings = sittings_of(burn, panel);
  const auto shared = shared_spots(sittings);
  if (shared.empty()) return {};
  std::vector<std::string> names;
  const auto cells = cells_of(panel, windows, sittings, shared, names);
  const int count = static_cast<int>(names.size());
  if (cells.empty() || count < 2) return {};
  const auto fit = fit_of(cells, count);
  std::vector<Trouble> out;
  for (int a = 0; a < count; ++a) {
    for (int b = 0; b < a; ++b) {
      Eigen::VectorXd contrast = Eigen::VectorXd::Zero(fit.kept.rows());
      contrast(a) = 1.0;
      contrast(b) = -1.0;
      if ((fit.kept.transpose() * contrast - contrast).squaredNorm() > estimable) continue;
      const double more = fit.effect(a) - fit.effect(b);
      const double variance =
          fit.covariance(a, a) + fit.covariance(b, b) - 2.0 * fit.covariance(a, b);
      if (std::abs(more) < told_standard_errors * std::sqrt(variance) ||
          std::abs(more) < told_share * burn.matters.kelvins())
        continue;
      const int high = more > 0.0 ? a : b, low = more > 0.0 ? b : a;
      Trouble trouble{TroubleKind::probe, TroubleCode::probe_offset,
                      names[static_cast<std::size_t>(high)], std::nullopt, std::abs(more)};
      trouble.against = names[static_cast<std::size_t>(low)];
      out.push_back(std::move(trouble));
    }
  }
  return out;
}

}  // namespace pitwright::call
