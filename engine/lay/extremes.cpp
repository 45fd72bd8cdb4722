#include "lay/extremes.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>

#include "base/expects.h"

namespace pitwright::lay {
namespace {

constexpr double neighborhood = 1.0 / 6.0;  ///< of the grate's diagonal
constexpr std::size_t words = 4;            ///< 64 draws each

/// Which draws hold: one bit a draw.
using Bits = std::array<std::uint64_t, words>;

Bits both(const Bits& a, const Bits& b) {
  Bits result;
  for (std::size_t k = 0; k < words; ++k) result[k] = a[k] & b[k];
  return result;
}

int count(const Bits& bits) {
  int sum = 0;
  for (const auto word : bits) sum += std::popcount(word);
  return sum;
}

std::vector<Bits> bits_within(const Draws& draws, double center_c, double band_k) {
  std::vector<Bits> within(static_cast<std::size_t>(draws.run_k.rows()), Bits{});
  for (Eigen::Index d = 0; d < draws.run_k.cols(); ++d) {
    const double low = center_c - band_k - draws.level_c(d), high = low + 2.0 * band_k;
    const auto word = static_cast<std::size_t>(d) / 64;
    const std::uint64_t bit = std::uint64_t{1} << (d % 64);
    for (Eigen::Index i = 0; i < draws.run_k.rows(); ++i)
      if (draws.run_k(i, d) >= low && draws.run_k(i, d) <= high)
        within[static_cast<std::size_t>(i)][word] |= bit;
  }
  return within;
}

struct Found {
  int x0 = 0, x1 = -1, y0 = 0, y1 = -1, draws = 0;
  int area() const { return (x1 - x0 + 1) * (y1 - y0 + 1); }
};

/// Best rectangle of the columns x0..x1, whose rows hold in `rows`.
void widen_rows(const std::vector<Bits>& rows, int x0, int x1, int needed, Found& best) {
  const int ny = static_cast<int>(rows.size());
  for (int y0 = 0; y0 < ny; ++y0) {
    if ((x1 - x0 + 1) * (ny - y0) < best.area()) break;
    Bits bits = rows[static_cast<std::size_t>(y0)];
    int held = count(bits), y1 = y0;
    if (held < needed) continue;
    while (y1 + 1 < ny) {
      const Bits more = both(bits, rows[static_cast<std::size_t>(y1 + 1)]);
      const int still = count(more);
      if (still < needed) break;
      bits = more;
      held = still;
      ++y1;
    }
    const Found found{x0, x1, y0, y1, held};
    if (found.area() > best.area() || (found.area() == best.area() && held > best.draws))
      best = found;
  }
}

}  // namespace

Extreme extreme_of(const Lattice& lattice, const Moments& moments, const Draws& draws, int setting,
                   double sign) {
  const double reach = neighborhood * std::hypot(lattice.width_m, lattice.depth_m);
  std::vector<Eigen::Index> at(static_cast<std::size_t>(draws.run_k.cols()));
  for (std::size_t d = 0; d < at.size(); ++d)
    (sign * draws.run_k.col(static_cast<Eigen::Index>(d))).maxCoeff(&at[d]);
  std::vector<double> xs, ys;
  for (const auto i : at) {
    xs.push_back(lattice.x_m(static_cast<int>(i) % lattice.nx));
    ys.push_back(lattice.y_m(static_cast<int>(i) / lattice.nx));
  }
  // The mean of those within reach, twice over: a place between two neighbors is better than
  // either.
  int most = 0;
  double best_x = 0.0, best_y = 0.0;
  for (std::size_t center = 0; center < at.size(); ++center) {
    double x = xs[center], y = ys[center];
    for (int again = 0; again < 2; ++again) {
      double sum_x = 0.0, sum_y = 0.0;
      int around = 0;
      for (std::size_t d = 0; d < at.size(); ++d) {
        const double dx = xs[d] - x, dy = ys[d] - y;
        if (dx * dx + dy * dy > reach * reach) continue;
        ++around;
        sum_x += xs[d];
        sum_y += ys[d];
      }
      if (around <= most) break;
      most = around;
      best_x = x;
      best_y = y;
      x = sum_x / around;
      y = sum_y / around;
    }
  }
  const int ix = std::clamp(
      static_cast<int>((best_x - lattice.x0_m) / lattice.width_m * lattice.nx), 0, lattice.nx - 1);
  const int iy = std::clamp(
      static_cast<int>((best_y - lattice.y0_m) / lattice.depth_m * lattice.ny), 0, lattice.ny - 1);
  const auto node = iy * lattice.nx + ix;
  return {{best_x, best_y, lattice.z_m},
          moments.mean[static_cast<std::size_t>(setting)](node),
          std::sqrt(moments.variance(setting)(node)),
          static_cast<double>(most) / static_cast<double>(at.size()),
          reach};
}

Estimate share_within(const Draws& draws, double center_c, double band_k) {
  std::vector<double> shares;
  double sum = 0.0;
  for (Eigen::Index d = 0; d < draws.run_k.cols(); ++d) {
    const auto off = (draws.run_k.col(d).array() + (draws.level_c(d) - center_c)).abs();
    shares.push_back(static_cast<double>((off <= band_k).count()) /
                     static_cast<double>(draws.run_k.rows()));
    sum += shares.back();
  }
  std::ranges::sort(shares);
  const auto rank = [&](double p) {
    return shares[static_cast<std::size_t>(
        std::lround(p * static_cast<double>(shares.size() - 1)))];
  };
  return {sum / static_cast<double>(shares.size()), rank(0.025), rank(0.975)};
}

std::optional<Rectangle> usable_rectangle(const Lattice& lattice, const Draws& draws,
                                          double center_c, double band_k, double chance) {
  expects(draws.run_k.cols() <= static_cast<Eigen::Index>(64 * words));
  const auto within = bits_within(draws, center_c, band_k);
  const int needed =
      static_cast<int>(std::ceil(chance * static_cast<double>(draws.run_k.cols()) - 1e-9));
  Found best;
  for (int x0 = 0; x0 < lattice.nx; ++x0) {
    if ((lattice.nx - x0) * lattice.ny < best.area()) break;
    Bits all;
    all.fill(~std::uint64_t{0});
    std::vector<Bits> rows(static_cast<std::size_t>(lattice.ny), all);
    for (int x1 = x0; x1 < lattice.nx; ++x1) {
      bool any = false;
      for (int y = 0; y < lattice.ny; ++y) {
        auto& row = rows[static_cast<std::size_t>(y)];
        row = both(row, within[static_cast<std::size_t>(y * lattice.nx + x1)]);
        any = any || count(row) >= needed;
      }
      if (!any) break;
      if ((x1 - x0 + 1) * lattice.ny >= best.area()) widen_rows(rows, x0, x1, needed, best);
    }
  }
  if (best.x1 < best.x0) return std::nullopt;
  const double cell_x = lattice.width_m / lattice.nx, cell_y = lattice.depth_m / lattice.ny;
  return Rectangle{lattice.x0_m + best.x0 * cell_x,
                   lattice.x0_m + (best.x1 + 1) * cell_x,
                   lattice.y0_m + best.y0 * cell_y,
                   lattice.y0_m + (best.y1 + 1) * cell_y,
                   static_cast<double>(best.draws) / static_cast<double>(draws.run_k.cols()),
                   static_cast<double>(best.area()) / lattice.nodes()};
}

}  // namespace pitwright::lay
