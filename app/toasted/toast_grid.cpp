#include "toasted/toast_grid.h"

#include <algorithm>
#include <cmath>

namespace pitwright::toasted {
namespace {

constexpr std::size_t most_columns = 12;

/// Where rows (or columns) lie: groups of coordinates that differ by less than half a slice.
std::vector<double> lines_of(std::vector<double> at, double side) {
  std::ranges::sort(at);
  std::vector<double> lines;
  double sum = 0.0, count = 0.0, last = 0.0;
  for (const double x : at) {
    if (count > 0.0 && x - last > 0.5 * side) {
      lines.push_back(sum / count);
      sum = count = 0.0;
    }
    sum += x;
    count += 1.0;
    last = x;
  }
  if (count > 0.0) lines.push_back(sum / count);
  return lines;
}

std::size_t nearest(const std::vector<double>& lines, double x) {
  const auto best =
      std::ranges::min_element(lines, {}, [&](double line) { return std::abs(line - x); });
  return static_cast<std::size_t>(best - lines.begin());
}

}  // namespace

std::optional<SliceGrid> grid_of(const std::vector<photo::SeenSlice>& slices) {
  if (slices.empty()) return std::nullopt;
  std::vector<double> x, y, sides;
  for (const auto& slice : slices) {
    x.push_back(slice.x_m);
    y.push_back(-slice.y_m);
    sides.push_back(slice.side_m);
  }
  std::ranges::sort(sides);
  const double side = sides[sides.size() / 2];
  const auto columns = lines_of(x, side), rows = lines_of(y, side);
  if (columns.size() > most_columns) return std::nullopt;
  SliceGrid grid(rows.size(), std::vector<std::optional<int>>(columns.size()));
  for (std::size_t i = 0; i < slices.size(); ++i) {
    auto& cell = grid[nearest(rows, y[i])][nearest(columns, x[i])];
    if (cell) return std::nullopt;
    cell = static_cast<int>(i);
  }
  return grid;
}

}  // namespace pitwright::toasted
