#include "sheet/readings_csv.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "documents/zones.h"
#include "report/degrees.h"
#include "report/text_width.h"

namespace pitwright::sheet {
namespace {

constexpr double most_cells = 60000.0;

struct ReadingColumn {
  std::string channel, head;
  Role role;
  std::vector<double> cells;
};

std::string head_of(const SheetView& view, const Probe& probe) {
  auto name = report::clean_name(probe.channel);
  if (probe.role == Role::wind) return name + " km/h";
  if (probe.role == Role::drive) return name + " %";
  return name + " " + report::scale_mark(view.scale);
}

/// 10 s, or the first longer round step with few enough cells.
double step_for(double span_s, std::size_t columns) {
  for (const double step : {10., 20., 30., 60., 120., 300., 600., 1200., 1800., 3600.})
    if (span_s / step * static_cast<double>(columns) <= most_cells) return step;
  return std::ceil(span_s * static_cast<double>(columns) / most_cells / 3600.0) * 3600.0;
}

std::string time_cell(const Burn& burn, double seconds) {
  if (!burn.clock.zero) return fmt::format("{:.0f}", seconds);
  const auto at = *burn.clock.zero + std::chrono::milliseconds(std::llround(1000.0 * seconds));
  return documents::local_text(documents::local_time_of(at, burn.clock.timezone));
}

std::string value_cell(double value, Role role, Scale scale) {
  if (!std::isfinite(value)) return "";
  const bool plain = role == Role::wind || role == Role::drive;
  const double told = plain ? value : Temperature::from_celsius(value).in(scale);
  auto text = fmt::format("{:.2f}", told);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

}  // namespace

std::string csv_cell(const std::string& text) {
  auto cell = report::clean_name(text);
  constexpr std::string_view formula_signs = "=+-@";
  if (!cell.empty() && formula_signs.contains(cell.front())) cell.insert(cell.begin(), '\'');
  if (cell.find_first_of(",\"\n\r;") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (const char c : cell) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

ReadingsTable readings_of(const SheetView& view) {
  const auto& burn = view.burn;
  ReadingsTable table;
  std::vector<ReadingColumn> columns;
  for (const auto& probe : burn.probes)
    if (std::ranges::find(columns, probe.channel, &ReadingColumn::channel) == columns.end())
      columns.push_back({probe.channel, head_of(view, probe), probe.role, {}});
  const double first = burn.first_s(), span = burn.last_s() - first;
  table.step_s = step_for(span, columns.size());
  table.rows = static_cast<int>(std::floor(span / table.step_s)) + 1;
  for (auto& column : columns) column.cells.assign(static_cast<std::size_t>(table.rows), NAN);
  for (const auto& probe : burn.probes) {
    auto& cells = std::ranges::find(columns, probe.channel, &ReadingColumn::channel)->cells;
    for (std::size_t k = 0; k < probe.readings.seconds.size(); ++k) {
      if (!std::isfinite(probe.readings.values[k])) continue;
      auto& cell =
          cells[static_cast<std::size_t>((probe.readings.seconds[k] - first) / table.step_s)];
      table.thinned = table.thinned || std::isfinite(cell);
      if (!std::isfinite(cell)) cell = probe.readings.values[k];
    }
  }
  table.csv = burn.clock.zero ? "time" : "seconds";
  for (const auto& column : columns) table.csv += "," + csv_cell(column.head);
  table.csv += "\n";
  for (int row = 0; row < table.rows; ++row) {
    table.csv += time_cell(burn, first + row * table.step_s);
    for (const auto& column : columns)
      table.csv +=
          "," + value_cell(column.cells[static_cast<std::size_t>(row)], column.role, view.scale);
    table.csv += "\n";
  }
  return table;
}

}  // namespace pitwright::sheet
