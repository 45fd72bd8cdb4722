#include "call/lag.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

#include <Eigen/Dense>

#include "series/robust.h"
#include "series/smooth.h"

namespace pitwright::call {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

constexpr double borrowed_lag_s = 360.0, borrowed_low_s = 180.0, borrowed_high_s = 720.0;
constexpr double prior_log_sd = 0.8;
constexpr double shortest_lag_s = 15.0, grid_ratio = 1.2;
constexpr int grid_lags = 27;                ///< up to 29 min
constexpr double told_log_likelihood = 2.0;  ///< by which the data must prefer some lags to others
constexpr double dependence = 0.5;           ///< spots share gusts: half of their evidence counts
constexpr double before_s = 1800.0, after_s = 2700.0;  ///< looked at around a change
constexpr double settled_share = 0.4;  ///< of the stretch before, left out as unsettled
constexpr double block_s = 30.0;
constexpr double blocks_a_stretch = 40.0;
constexpr int most_series = 16;                                ///< the spots that answer most
constexpr double spot_slope_k_h = 1.0, level_slope_k_h = 3.0;  ///< drift, prior sd

using Vector3 = Eigen::Vector3d;
using Matrix3 = Eigen::Matrix3d;

/// One series around one change, in blocks: times from the change and means.
struct Piece {
  int series;
  double slope_sd_k_s;
  double block_s;
  std::vector<double> t, y;
};

/// Mean of 1 - exp(-s / lag) over the block of length b around t; 0 before the change.
double approach(double t, double b, double lag_s) {
  const double from = std::max(0.0, t - 0.5 * b), to = t + 0.5 * b;
  if (to <= 0.0) return 0.0;
  return ((to - from) - lag_s * (std::exp(-from / lag_s) - std::exp(-to / lag_s))) / b;
}

std::vector<double> masked(std::span<const double> y, const Seen& seen) {
  std::vector<double> out(y.begin(), y.end());
  for (std::size_t j = 0; j < out.size(); ++j) {
    if (seen.excluded[j] != 0) out[j] = nan;
  }
  return out;
}

struct Bounds {
  double from_s, to_s;
};

Bounds bounds_of(const ChangeMoment& change, const Seen& seen) {
  const double unsettled =
      change.before_from_s + settled_share * (change.before_to_s - change.before_from_s);
  return {std::max(unsettled, change.at_s - before_s),
          std::min({change.after_to_s, change.at_s + after_s, seen.end_s()})};
}

Piece piece_of(std::span<const double> y, const Seen& seen, const ChangeMoment& change,
               double block, double slope_k_h) {
  const Bounds bounds = bounds_of(change, seen);
  const int every = std::max(1, static_cast<int>(std::lround(block / seen.step_s)));
  Piece piece{0, slope_k_h / 3600.0, every * seen.step_s, {}, {}};
  // Blocks run outward from the change, so that none straddles it.
  const int middle = seen.index_of(change.at_s);
  const int before = std::max(0, middle - seen.index_of(bounds.from_s)) / every;
  const int first = middle - before * every, last = seen.index_of(bounds.to_s);
  for (int j = first; j + every <= last; j += every) {
    double sum = 0.0;
    int n = 0;
    for (int i = j; i < j + every; ++i) {
      const double v = y[static_cast<std::size_t>(i)];
      if (!std::isfinite(v) || (seen.time_of(i) > change.before_to_s && i < middle)) continue;
      sum += v;
      ++n;
    }
    if (2 * n < every || n == 0) continue;
    piece.t.push_back(seen.time_of(j) - change.at_s + 0.5 * (every - 1) * seen.step_s);
    piece.y.push_back(sum / n);
  }
  return piece;
}

/// Least squares of one piece after whitening with phi, at one lag.
struct Fit {
  double squares = 0.0;            ///< of whitened residuals
  Vector3 beta = Vector3::Zero();  ///< a, delta, b
  Matrix3 inverse = Matrix3::Zero();
  double free = 0.0;  ///< residual degrees of freedom
};

Fit fit_piece(const Piece& piece, double lag_s, double phi, double noise_sd) {
  Matrix3 a = Matrix3::Zero();
  Vector3 b = Vector3::Zero();
  double yy = 0.0;
  const double scale = noise_sd / piece.slope_sd_k_s;
  a(2, 2) = scale * scale;
  Vector3 last = Vector3::Zero();
  double last_t = -INFINITY, last_y = 0.0;
  const double first_weight = std::sqrt(1.0 - phi * phi);
  for (std::size_t k = 0; k < piece.t.size(); ++k) {
    const double t = piece.t[k];
    const Vector3 x(1.0, approach(t, piece.block_s, lag_s), t);
    const bool follows = t - last_t < 1.5 * piece.block_s;
    const Vector3 z = follows ? Vector3(x - phi * last) : Vector3(first_weight * x);
    const double v = follows ? piece.y[k] - phi * last_y : first_weight * piece.y[k];
    a += z * z.transpose();
    b += z * v;
    yy += v * v;
    last = x, last_t = t, last_y = piece.y[k];
  }
  Fit fit;
  a(0, 0) += 1e-9, a(1, 1) += 1e-9;
  fit.inverse = a.inverse();
  fit.beta = fit.inverse * b;
  fit.squares = std::max(1e-12, yy - b.dot(fit.beta));
  fit.free = static_cast<double>(piece.t.size()) - 2.0;
  return fit;
}

/// Lag-1 correlation and sd of the residuals of a piece at one lag, without whitening.
struct Noise {
  double phi, sd;
};

Noise noise_of(const std::vector<Piece>& pieces, int series, double lag_s) {
  double products = 0.0, squares = 0.0, free = 0.0;
  for (const Piece& piece : pieces) {
    if (piece.series != series || piece.t.size() < 6) continue;
    const Fit fit = fit_piece(piece, lag_s, 0.0, 1.0);
    double last = nan;
    for (std::size_t k = 0; k < piece.t.size(); ++k) {
      const Vector3 x(1.0, approach(piece.t[k], piece.block_s, lag_s), piece.t[k]);
      const double r = piece.y[k] - x.dot(fit.beta);
      squares += r * r;
      if (std::isfinite(last)) products += r * last;
      last = r;
    }
    free += fit.free;
  }
  if (!(squares > 0.0) || free < 4.0) return {0.0, 1e-3};
  return {std::clamp(products / squares, 0.0, 0.95), std::max(1e-3, std::sqrt(squares / free))};
}

double block_for(const ChangeMoment& change, const Seen& seen) {
  const Bounds bounds = bounds_of(change, seen);
  return std::clamp((bounds.to_s - change.at_s) / blocks_a_stretch, seen.step_s,
                    std::max(block_s, seen.step_s));
}

/// The level is averaged over whole swings where these are short beside the stretch.
double level_block_for(const ChangeMoment& change, const Seen& seen,
                       std::optional<double> period_s) {
  const double plain = block_for(change, seen);
  const double stretch = bounds_of(change, seen).to_s - change.at_s;
  return period_s && *period_s < 0.25 * stretch ? std::max(plain, *period_s) : plain;
}

/// The spots against the level, those with the largest shifts between stretches first.
std::vector<std::vector<double>> strongest_runs(const Seen& seen,
                                                const std::vector<ChangeMoment>& changes) {
  std::vector<std::pair<double, std::vector<double>>> runs;
  for (const auto& spot : seen.spots) {
    auto d = masked(spot, seen);
    for (std::size_t j = 0; j < d.size(); ++j) d[j] -= seen.level[j];
    double shift = 0.0;
    for (const auto& change : changes) {
      const Bounds b = bounds_of(change, seen);
      const auto part = [&](double from, double to) {
        const auto i = static_cast<std::size_t>(seen.index_of(from));
        const auto k = std::max(i, static_cast<std::size_t>(seen.index_of(to)));
        return series::median(std::span(d).subspan(i, k - i));
      };
      const double moved = part(0.5 * (change.at_s + b.to_s), b.to_s) - part(b.from_s, change.at_s);
      if (std::isfinite(moved)) shift = std::max(shift, std::abs(moved));
    }
    runs.emplace_back(shift, std::move(d));
  }
  std::ranges::sort(runs, [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<std::vector<double>> out;
  out.reserve(most_series);
  for (auto& run : runs) {
    if (static_cast<int>(out.size()) < most_series) out.push_back(std::move(run.second));
  }
  return out;
}

std::vector<Piece> pieces_of(const Burn& burn, const Seen& seen, std::optional<double> period_s) {
  const auto changes = changes_of(burn);
  const auto runs = strongest_runs(seen, changes);
  const auto level = masked(seen.level, seen);
  std::vector<Piece> out;
  for (const auto& change : changes) {
    if (change.at_s >= seen.end_s()) continue;
    for (std::size_t i = 0; i < runs.size(); ++i) {
      auto piece = piece_of(runs[i], seen, change, block_for(change, seen), spot_slope_k_h);
      piece.series = static_cast<int>(i);
      if (piece.t.size() >= 6 && runs.size() > 1) out.push_back(std::move(piece));
    }
    auto piece =
        piece_of(level, seen, change, level_block_for(change, seen, period_s), level_slope_k_h);
    piece.series = static_cast<int>(runs.size());
    if (piece.t.size() >= 6) out.push_back(std::move(piece));
  }
  return out;
}

std::vector<double> log_likelihoods(const std::vector<Piece>& pieces,
                                    const std::vector<double>& lags) {
  int series = 0;
  for (const Piece& piece : pieces) series = std::max(series, piece.series + 1);
  std::vector<Noise> noise;
  noise.reserve(static_cast<std::size_t>(series));
  for (int i = 0; i < series; ++i) noise.push_back(noise_of(pieces, i, borrowed_lag_s));
  std::vector<double> out(lags.size(), 0.0);
  for (std::size_t g = 0; g < lags.size(); ++g) {
    std::vector<double> squares(static_cast<std::size_t>(series), 0.0), free(squares);
    for (const Piece& piece : pieces) {
      const auto i = static_cast<std::size_t>(piece.series);
      const Fit fit = fit_piece(piece, lags[g], noise[i].phi, noise[i].sd);
      squares[i] += fit.squares;
      free[i] += fit.free;
    }
    for (std::size_t i = 0; i < squares.size(); ++i) {
      if (free[i] > 0.0) out[g] -= 0.5 * dependence * free[i] * std::log(squares[i]);
    }
  }
  return out;
}

double quantile(const std::vector<double>& lags, const std::vector<double>& weights, double p) {
  const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
  double sum = 0.0;
  for (std::size_t g = 0; g < lags.size(); ++g) {
    const double next = sum + weights[g] / total;
    if (next >= p) {
      const double part = weights[g] > 0.0 ? (p - sum) / (next - sum) : 0.5;
      return lags[g] * std::pow(grid_ratio, part - 0.5);
    }
    sum = next;
  }
  return lags.back();
}

}  // namespace

Lag lag_of(const Burn& burn, const Seen& seen, std::optional<double> period_s) {
  const Lag borrowed{borrowed_lag_s, borrowed_low_s, borrowed_high_s, true};
  const auto pieces = pieces_of(burn, seen, period_s);
  if (pieces.empty()) return borrowed;
  std::vector<double> lags;
  lags.reserve(grid_lags);
  for (int g = 0; g < grid_lags; ++g) lags.push_back(shortest_lag_s * std::pow(grid_ratio, g));
  const auto fits = log_likelihoods(pieces, lags);
  const double best = *std::ranges::max_element(fits);
  double worst = best;
  std::vector<double> weights;
  for (std::size_t g = 0; g < lags.size(); ++g) {
    if (lags[g] >= 60.0 && lags[g] <= 1800.0) worst = std::min(worst, fits[g]);
    const double z = std::log(lags[g] / borrowed_lag_s) / prior_log_sd;
    weights.push_back(std::exp(fits[g] - best - 0.5 * z * z));
  }
  if (best - worst < told_log_likelihood) return borrowed;
  return {quantile(lags, weights, 0.5), quantile(lags, weights, 0.16),
          quantile(lags, weights, 0.84), false};
}

std::vector<double> change_sizes(const Seen& seen, const ChangeMoment& change, double lag_s,
                                 std::optional<double> period_s) {
  std::vector<double> out;
  const auto size_in = [&](std::span<const double> y, double block, double slope_k_h) {
    auto piece = piece_of(y, seen, change, block, slope_k_h);
    if (piece.t.size() < 4) return 0.0;
    const Noise noise = noise_of({piece}, 0, lag_s);
    const Fit fit = fit_piece(piece, lag_s, noise.phi, noise.sd);
    const double variance =
        fit.squares / std::max(1.0, fit.free) * std::max(0.0, fit.inverse(1, 1));
    return std::max(0.0, std::abs(fit.beta(1)) - std::sqrt(variance));
  };
  const auto level = masked(seen.level, seen);
  for (const auto& spot : seen.spots) {
    auto d = masked(spot, seen);
    for (std::size_t j = 0; j < d.size(); ++j) d[j] -= level[j];
    out.push_back(size_in(d, block_for(change, seen), spot_slope_k_h));
  }
  out.push_back(size_in(level, level_block_for(change, seen, period_s), level_slope_k_h));
  return out;
}

}  // namespace pitwright::call
