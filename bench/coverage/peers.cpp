#include "coverage/peers.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/expects.h"

namespace pitwright::bench {
namespace {

std::optional<double> coordinate(const call::PanelSpot& spot, int axis) {
  return axis == 0 ? spot.x_m : axis == 1 ? spot.y_m : spot.z_m;
}

double to_f(double celsius) {
  return celsius * 1.8 + 32.0;
}

/// All series at one moment; NaN where any spot is missing (the peers keep it simple).
Eigen::VectorXd at_moment(const call::Panel& panel, int j,
                          const std::vector<std::optional<std::vector<double>>>& tilts) {
  const auto spots = static_cast<Eigen::Index>(panel.spots.size());
  Eigen::VectorXd readings(spots);
  for (Eigen::Index i = 0; i < spots; ++i) {
    readings(i) =
        to_f(panel.spots[static_cast<std::size_t>(i)].celsius[static_cast<std::size_t>(j)]);
  }
  const double level = readings.mean();
  std::vector<double> out{level};
  for (const double r : readings) out.push_back(r);
  for (const double r : readings) out.push_back(r - level);
  for (const auto& weights : tilts) {
    if (!weights) continue;
    out.push_back(Eigen::Map<const Eigen::VectorXd>(weights->data(), spots).dot(readings));
  }
  return Eigen::Map<Eigen::VectorXd>(out.data(), std::ssize(out));
}

struct Window {
  int setting, stretch;
  double from_s, to_s;
};

/// What the peers count: each stint after its settling time.
std::vector<Window> plain_windows(const Burn& burn, const call::Windows& windows) {
  std::vector<Window> out;
  int stretch = -1;
  for (std::size_t k = 0; k < burn.stints.size(); ++k) {
    const auto& stint = burn.stints[k];
    const bool carries_on = k > 0 && burn.stints[k - 1].setting == stint.setting;
    if (!carries_on) ++stretch;
    const double settle = carries_on ? 0.0 : std::min(1200.0, 0.4 * (stint.to_s - stint.from_s));
    out.push_back({windows.stints[k].setting, stretch, stint.from_s + settle, stint.to_s});
  }
  return out;
}

/// Sum of the good moments in [from, to) and how many there were.
std::pair<Eigen::VectorXd, int> sum_over(const Eigen::MatrixXd& series, const call::Panel& panel,
                                         double from_s, double to_s) {
  Eigen::VectorXd sum = Eigen::VectorXd::Zero(series.rows());
  int good = 0;
  const int first =
      std::max(0, static_cast<int>(std::ceil((from_s - panel.start_s) / panel.step_s)));
  const int last = std::min(panel.n, static_cast<int>((to_s - panel.start_s) / panel.step_s));
  for (int j = first; j < last; ++j) {
    if (!series.col(j).allFinite()) continue;
    sum += series.col(j);
    ++good;
  }
  return {sum, good};
}

Eigen::MatrixXd all_series(const call::Panel& panel) {
  const auto tilts = tilt_weights(panel);
  Eigen::MatrixXd series;
  for (int j = 0; j < panel.n; ++j) {
    const auto column = at_moment(panel, j, tilts);
    if (j == 0) series.resize(column.size(), panel.n);
    series.col(j) = column;
  }
  return series;
}

}  // namespace

std::vector<std::optional<std::vector<double>>> tilt_weights(const call::Panel& panel) {
  std::vector<std::optional<std::vector<double>>> out(3);
  const auto n = panel.spots.size();
  for (int axis = 0; axis < 3; ++axis) {
    std::vector<double> x;
    for (const auto& spot : panel.spots) x.push_back(coordinate(spot, axis).value_or(std::nan("")));
    if (x.empty() || std::ranges::any_of(x, [](double v) { return std::isnan(v); })) continue;
    const auto [low, high] = std::ranges::minmax(x);
    if (high - low <= 0.0) continue;
    double mean = 0.0, squares = 0.0;
    for (const double v : x) mean += v / static_cast<double>(n);
    for (const double v : x) squares += (v - mean) * (v - mean);
    std::vector<double> weights;
    for (const double v : x) weights.push_back((v - mean) / squares * (high - low));
    out[static_cast<std::size_t>(axis)] = std::move(weights);
  }
  return out;
}

PlainBlocks plain_blocks(const Burn& burn, const call::Panel& panel, const call::Windows& windows) {
  const auto series = all_series(panel);
  const double block_s = std::clamp(windows.swing.period_s.value_or(300.0), 180.0, 1200.0);
  PlainBlocks out;
  std::vector<Eigen::VectorXd> means;
  std::vector<double> middles;
  for (const auto& window : plain_windows(burn, windows)) {
    const double length = window.to_s - window.from_s;
    const int blocks = std::max(1, static_cast<int>(length / block_s));
    for (int b = 0; b < blocks; ++b) {
      const double from = window.from_s + b * length / blocks;
      const double to = from + length / blocks;
      const auto [sum, good] = sum_over(series, panel, from, to);
      if (good == 0) continue;
      means.emplace_back(sum / good);
      middles.push_back((from + to) / 2.0);
      out.stretch.push_back(window.stretch);
      out.setting.push_back(window.setting);
    }
  }
  expects(!means.empty());
  out.values.resize(std::ssize(means), means.front().size());
  for (std::size_t i = 0; i < means.size(); ++i) {
    out.values.row(static_cast<Eigen::Index>(i)) = means[i].transpose();
    out.middle_h.push_back((middles[i] - middles.front()) / 3600.0);
  }
  return out;
}

Eigen::MatrixXd snapshots(const Burn& burn, const call::Panel& panel,
                          const call::Windows& windows) {
  const auto tilts = tilt_weights(panel);
  const auto settings = std::ssize(windows.settings);
  Eigen::MatrixXd out;
  std::vector<char> taken(static_cast<std::size_t>(settings), 0);
  for (std::size_t k = 0; k < burn.stints.size(); ++k) {
    const int setting = windows.stints[k].setting;
    if (taken[static_cast<std::size_t>(setting)]) continue;
    taken[static_cast<std::size_t>(setting)] = 1;
    const double at_s = burn.stints[k].to_s - 1.5 * panel.step_s;
    const int j =
        std::clamp(static_cast<int>((at_s - panel.start_s) / panel.step_s), 0, panel.n - 1);
    const auto row = at_moment(panel, j, tilts);
    if (out.size() == 0) out.resize(settings, row.size());
    out.row(setting) = row.transpose();
  }
  return out;
}

std::vector<PlainChange> textbook(const Burn& burn, const call::Panel& panel,
                                  const call::Windows& windows) {
  constexpr double z = 1.959964;  // 97.5 % point of the normal: the samples are hundreds
  const auto series = all_series(panel);
  const auto settings = std::ssize(windows.settings);
  Eigen::MatrixXd sum = Eigen::MatrixXd::Zero(settings, series.rows());
  Eigen::MatrixXd squares = sum;
  Eigen::VectorXd n = Eigen::VectorXd::Zero(settings);
  for (const auto& window : plain_windows(burn, windows)) {
    for (int j = 0; j < panel.n; ++j) {
      const double t = panel.start_s + (j + 0.5) * panel.step_s;
      if (t < window.from_s || t >= window.to_s || !series.col(j).allFinite()) continue;
      sum.row(window.setting) += series.col(j).transpose();
      squares.row(window.setting) += series.col(j).cwiseAbs2().transpose();
      n(window.setting) += 1.0;
    }
  }
  std::vector<PlainChange> out;
  for (int k = 0; k < series.rows(); ++k) {
    for (int from = 0; from < settings; ++from) {
      for (int to = from + 1; to < settings; ++to) {
        const auto variance_of_mean = [&](int s) {
          const double mean = sum(s, k) / n(s);
          return (squares(s, k) / n(s) - mean * mean) / (n(s) - 1.0);
        };
        const double value = sum(to, k) / n(to) - sum(from, k) / n(from);
        const double half = z * std::sqrt(variance_of_mean(from) + variance_of_mean(to));
        out.push_back({k, from, to, value, value - half, value + half});
      }
    }
  }
  return out;
}

}  // namespace pitwright::bench
