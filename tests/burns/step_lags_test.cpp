#include <cstdlib>
#include <fstream>
#include <limits>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "call/panel.h"
#include "call/windows.h"

// The lag that the call finds in measured step answers, against SciPy's first-order fits.
// Source of the logs: data/tclab_step_tests and data/uliege_pipe_steps; of the expected values:
// data/reference/step_lags/expected.csv, made by make.py beside it.

namespace pitwright {
namespace {

using Row = std::vector<std::string>;

std::vector<Row> rows_of(const std::string& path) {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/" + path);
  std::vector<Row> rows;
  for (std::string line; std::getline(file, line);) {
    Row row;
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(cell);
    rows.push_back(std::move(row));
  }
  return rows;
}

bool is_number(const std::string& cell) {
  char* end = nullptr;
  std::strtod(cell.c_str(), &end);
  return end != cell.c_str();
}

/// One value of SciPy's table.
double expected(const std::string& log, int column, std::string_view name) {
  const auto rows = rows_of("reference/step_lags/expected.csv");
  for (const auto& row : rows) {
    if (row[0] != "log " + log || row[1] != "column " + std::to_string(column)) continue;
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (rows[0][i] == name) return std::stod(row[i]);
    }
  }
  throw std::runtime_error("not in the table: " + log);
}

struct Steps {
  std::string folder, log;
  int column;
  double kelvins_per_unit;
  std::vector<double> at_s;
  double end_s;
};

/// A burn of one spot whose settings change at the steps.
Burn burn_of(const Steps& steps) {
  Burn burn;
  Probe probe;
  probe.channel = probe.spot = "step";
  for (const auto& row : rows_of(steps.folder + steps.log + ".csv")) {
    if (!is_number(row[0]) || std::stod(row[0]) >= steps.end_s) continue;
    probe.readings.seconds.push_back(std::stod(row[0]));
    probe.readings.values.push_back(std::stod(row.at(static_cast<std::size_t>(steps.column))) *
                                    steps.kelvins_per_unit);
  }
  burn.probes.push_back(std::move(probe));
  auto ends = steps.at_s;
  ends.push_back(steps.end_s);
  double from = 0.0;
  for (std::size_t k = 0; k < ends.size(); ++k) {
    burn.stints.push_back({"setting " + std::to_string(k), {}, from, ends[k]});
    from = ends[k];
  }
  return burn;
}

call::Windows windows_of(const Steps& steps) {
  const auto burn = burn_of(steps);
  return call::find_windows(burn, call::make_panel(burn), std::numeric_limits<double>::max());
}

const Steps board{"tclab_step_tests/", "siso_voltage_degF_1s", 2,
                  5.0 / 9.0,           {63.0, 168.0, 505.0},   851.0};
Steps pipe(int column) {
  return {"uliege_pipe_steps/csv/", "PipeDataULg151204_4", column, 1.0, {667.6}, 1000.0};
}
constexpr int wall_out = 2, water_out = 3, wall_in = 4, water_in = 5;

TEST(StepLags, AgreeWithSciPyWhereTheAnswerHasNoDeadTime) {
  // The call looks for lags on a grid of ratio 1.2 and leaves a drift free: a step of it and a
  // little.
  constexpr double factor = 1.25;
  for (const auto& steps : {board, pipe(wall_in), pipe(water_in)}) {
    SCOPED_TRACE(steps.log + ", column " + std::to_string(steps.column));
    const auto windows = windows_of(steps);
    EXPECT_FALSE(windows.lag_borrowed);
    const double ratio = windows.lag_s / expected(steps.log, steps.column, "lag_s");
    EXPECT_GT(ratio, 1.0 / factor) << windows.lag_s << " s";
    EXPECT_LT(ratio, factor) << windows.lag_s << " s";
  }
}

TEST(StepLags, ADeadTimeDoesNotLetTheTransitionCount) {
  for (const int column : {wall_out, water_out}) {
    SCOPED_TRACE(column);
    const auto steps = pipe(column);
    const auto windows = windows_of(steps);
    const double arrives_s = steps.at_s[0] + expected(steps.log, column, "dead_s");
    const double lag_s = expected(steps.log, column, "lag_with_dead_s");
    EXPECT_GT(windows.stints.at(1).counted_from_s.value_or(0.0), arrives_s + 2.0 * lag_s);
  }
}

}  // namespace
}  // namespace pitwright
