#include "call/blocks.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/expects.h"

namespace pitwright::call {
namespace {

constexpr double shortest_block_s = 180.0;
constexpr double block_without_swing_s = 300.0;
constexpr double fit_share = 0.8;         // of a stint's counted moments: fit for the level
constexpr double good_share = 0.6;        // of a block's moments: fit to be averaged
constexpr double reading_reach_s = 60.0;  // how much time a single reading speaks for, at most
constexpr double typical_noise_k = 3.0 / 1.8;

double mid_s(const Panel& panel, int moment) {
  return panel.start_s + (moment + 0.5) * panel.step_s;
}

bool counts(const StintCall& stint) {
  return stint.counted_from_s && stint.counted_to_s && stint.state != StintState::spoiled;
}

/// Panel moments whose middle lies in [from, to).
std::pair<int, int> moments_between(const Panel& panel, double from_s, double to_s) {
  const auto index = [&](double t) {
    const double k = std::ceil((t - panel.start_s) / panel.step_s - 0.5);
    return static_cast<int>(std::clamp(k, 0.0, static_cast<double>(panel.n)));
  };
  return {index(from_s), index(to_s)};
}

bool excluded(const Windows& windows, int moment) {
  const auto i = static_cast<std::size_t>(moment);
  return i < windows.excluded.size() && windows.excluded[i] != 0;
}

bool read(const PanelSpot& spot, int moment) {
  return std::isfinite(spot.celsius[static_cast<std::size_t>(moment)]);
}

bool is_suspect(const Panel& panel, const PanelSpot& spot) {
  return std::ranges::any_of(panel.troubles, [&](const Trouble& trouble) {
    return (trouble.code == TroubleCode::probe_touching ||
            trouble.code == TroubleCode::probe_jump) &&
           (trouble.where == spot.channel || trouble.where == spot.spot);
  });
}

/// Is the spot read at nearly all counted moments of every counted stint?
bool is_fit(const Panel& panel, const Windows& windows, const PanelSpot& spot) {
  for (const auto& stint : windows.stints) {
    if (!counts(stint)) continue;
    const auto [first, last] = moments_between(panel, *stint.counted_from_s, *stint.counted_to_s);
    int all = 0, present = 0;
    for (int j = first; j < last; ++j) {
      if (excluded(windows, j)) continue;
      ++all;
      present += read(spot, j) ? 1 : 0;
    }
    if (present < fit_share * all) return false;
  }
  return true;
}

/// Variance of a block's noise in standard blocks. A block shorter than a swing also keeps part of
/// the swing: a sine of height A averaged over a share x of its period, phase unknown, has variance
/// A^2 / 2 (sin(pi x) / (pi x))^2; it is set against the noise that the prior expects.
double noise_of(double length_s, double standard_s, const Swing& swing) {
  double noise = standard_s / length_s;
  if (swing.period_s && length_s < 0.95 * *swing.period_s) {
    const double x = std::numbers::pi * length_s / *swing.period_s;
    const double height = 0.5 * swing.size_k;
    const double left = 0.5 * std::pow(height * std::sin(x) / x, 2.0);
    noise *= 1.0 + left / (typical_noise_k * typical_noise_k);
  }
  return noise;
}

struct Span {
  int stint, first, last;
};

/// The window's moments as spans of `length` moments, whole swings, counted from the window's end;
/// a rest of at least two fifths of a block is a span of its own, a smaller one is dropped where
/// there is a swing and spread over the others where there is none.
std::vector<Span> cut(int stint, int first, int last, double length, bool whole) {
  constexpr double worth_keeping = 0.4, rounding = 0.02;
  const int window = last - first;
  const int count = static_cast<int>(std::floor(window / length + rounding));
  if (count == 0) return {{stint, first, last}};
  const double each = whole ? length : static_cast<double>(window) / count;
  std::vector<Span> spans;
  const int whole_from = std::max(first, last - static_cast<int>(std::lround(count * each)));
  if (whole_from - first >= worth_keeping * length) spans.push_back({stint, first, whole_from});
  for (int k = count; k > 0; --k) {
    const int from = std::max(first, last - static_cast<int>(std::lround(k * each)));
    const int to = last - static_cast<int>(std::lround((k - 1) * each));
    spans.push_back({stint, from, to});
  }
  return spans;
}

}  // namespace

double standard_block_s(const Swing& swing) {
  if (!swing.period_s) return block_without_swing_s;
  return *swing.period_s * std::max(1.0, std::ceil(shortest_block_s / *swing.period_s - 1e-9));
}

std::vector<int> stretches(const Windows& windows) {
  std::vector<int> result;
  int stretch = -1, previous = -1;
  for (const auto& stint : windows.stints) {
    const bool joins = stint.setting == previous;
    previous = stint.setting;
    if (!counts(stint)) {
      result.push_back(-1);
      if (!joins) ++stretch;
      continue;
    }
    if (!joins) ++stretch;
    result.push_back(stretch);
  }
  return result;
}

Moments find_moments(const Panel& panel, const Windows& windows) {
  Moments moments;
  for (int pass = 0; pass < 2 && moments.level_spots.empty(); ++pass)
    for (int i = 0; i < std::ssize(panel.spots); ++i) {
      const auto& spot = panel.spots[static_cast<std::size_t>(i)];
      if ((pass == 1 || !is_suspect(panel, spot)) && is_fit(panel, windows, spot))
        moments.level_spots.push_back(i);
    }
  moments.good.assign(static_cast<std::size_t>(panel.n), 0);
  if (moments.level_spots.empty()) return moments;
  for (const auto& stint : windows.stints) {
    if (!counts(stint)) continue;
    const auto [first, last] = moments_between(panel, *stint.counted_from_s, *stint.counted_to_s);
    for (int j = first; j < last; ++j) {
      const bool all_read = std::ranges::all_of(moments.level_spots, [&](int i) {
        return read(panel.spots[static_cast<std::size_t>(i)], j);
      });
      moments.good[static_cast<std::size_t>(j)] = all_read && !excluded(windows, j);
    }
  }
  return moments;
}

std::vector<Block> cut_blocks(const Panel& panel, const Windows& windows, const Moments& moments,
                              bool only_closed, int most) {
  const double standard_s = std::max(standard_block_s(windows.swing), panel.step_s);
  const auto stretch = stretches(windows);
  std::vector<Span> spans;
  for (int times = 1; times == 1 || std::ssize(spans) > most; ++times) {
    const auto before = spans.size();
    spans.clear();
    for (const auto& stint : windows.stints) {
      if (!counts(stint) || (only_closed && stint.state != StintState::closed)) continue;
      const auto [first, last] = moments_between(panel, *stint.counted_from_s, *stint.counted_to_s);
      if (first >= last) continue;
      const auto more = cut(stint.index, first, last, times * standard_s / panel.step_s,
                            windows.swing.period_s.has_value());
      spans.insert(spans.end(), more.begin(), more.end());
    }
    if (times > 1 && before == spans.size() && times * standard_s > panel.n * panel.step_s) break;
  }

  std::vector<Block> blocks;
  for (const auto& span : spans) {
    double sum = 0.0;
    int good = 0;
    for (int j = span.first; j < span.last; ++j) {
      if (moments.good[static_cast<std::size_t>(j)] == 0) continue;
      sum += mid_s(panel, j);
      ++good;
    }
    const double share = static_cast<double>(good) / (span.last - span.first);
    if (good == 0 || share < good_share) continue;
    const double known_s = good * std::min(panel.step_s, reading_reach_s);
    const auto& stint = windows.stints[static_cast<std::size_t>(span.stint)];
    blocks.push_back({span.first, span.last, span.stint,
                      stretch[static_cast<std::size_t>(span.stint)], stint.setting, sum / good,
                      share, noise_of(known_s, standard_s, windows.swing)});
  }
  return blocks;
}

Layout layout_of(const std::vector<Block>& blocks) {
  Layout layout;
  for (const auto& block : blocks) {
    layout.hours.push_back(block.middle_s / 3600.0);
    layout.stretch.push_back(block.stretch);
    layout.noise.push_back(block.noise);
  }
  return layout;
}

namespace {

/// Mean of exp(-t / lag) over [from, to].
double mean_decay(double lag_s, double from, double to) {
  if (!(lag_s > 0.0)) return 0.0;
  return lag_s / (to - from) * (std::exp(-from / lag_s) - std::exp(-to / lag_s));
}

}  // namespace

Eigen::MatrixXd settling_rows(const std::vector<Block>& blocks, const Panel& panel,
                              const Windows& windows, const Settling& settling) {
  const auto settings = static_cast<Eigen::Index>(windows.settings.size());
  Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(std::ssize(blocks), settings);
  for (int b = 0; b < std::ssize(blocks); ++b) {
    const auto& block = blocks[static_cast<std::size_t>(b)];
    const double from_s = panel.start_s + block.first * panel.step_s;
    const double to_s = std::max(from_s + 1e-6, panel.start_s + block.last * panel.step_s);
    rows(b, windows.stints.front().setting) = 1.0;
    for (std::size_t k = 1; k < windows.stints.size(); ++k) {
      const auto& stint = windows.stints[k];
      const int before = windows.stints[k - 1].setting;
      if (stint.setting == before || stint.from_s >= to_s) continue;
      const double begin_s = std::max(from_s, stint.from_s);
      const double come =
          (to_s - begin_s) / (to_s - from_s) *
          (1.0 - mean_decay(settling.lag_s, begin_s - stint.from_s, to_s - stint.from_s));
      rows(b, stint.setting) += come;
      rows(b, before) -= come;
    }
  }
  std::vector<char> counted(windows.settings.size(), 0);
  for (const auto& block : blocks) counted[static_cast<std::size_t>(block.setting)] = 1;
  for (int b = 0; b < std::ssize(blocks); ++b)
    for (int k = 0; k < settings; ++k)
      if (counted[static_cast<std::size_t>(k)] == 0) {
        rows(b, blocks[static_cast<std::size_t>(b)].setting) += rows(b, k);
        rows(b, k) = 0.0;
      }
  return rows;
}

}  // namespace pitwright::call
