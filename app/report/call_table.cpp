#include "report/call_table.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "report/call_words.h"
#include "report/degrees.h"
#include "report/text_table.h"
#include "report/text_width.h"

namespace pitwright::report {
namespace {

constexpr int longest_head = 14;
constexpr int longest_spot = 22;
constexpr std::size_t crowd = 12;  ///< more spots than this are sorted and set in fives
constexpr std::string_view missing = "–";

/// One row: a quantity, or a heading where there is none.
struct Row {
  std::string label;
  const call::Quantity* quantity = nullptr;
  bool is_reading = false;  ///< a temperature, else a difference
  bool sign = true;
};

std::vector<const call::SpotCall*> spots_in_order(const call::Report& report) {
  std::vector<const call::SpotCall*> spots;
  spots.reserve(report.spots.size());
  for (const auto& spot : report.spots) spots.push_back(&spot);
  if (spots.size() <= crowd) return spots;
  const auto coolness = [](const call::SpotCall* spot) {
    double run = -std::numeric_limits<double>::infinity();
    for (const auto& setting : spot->runs.by_setting) {
      if (!setting.estimate) continue;
      run = setting.estimate->value;
      break;
    }
    return std::pair(-run, spot);  // the report's own order between equals
  };
  std::ranges::sort(spots, {}, coolness);
  return spots;
}

/// Whether a change of this spot deserves a look.
bool is_notable(const call::SpotCall& spot) {
  return std::ranges::any_of(spot.runs.changes, [](const call::Change& change) {
    return change.word != call::Word::no_odds && change.word != call::Word::muddled;
  });
}

std::vector<Row> rows_of(const call::Report& report,
                         const std::vector<const call::SpotCall*>& spots) {
  std::vector<Row> rows = {{"level", &report.level, true, false}};
  for (const auto& tilt : report.tilts) {
    rows.push_back({std::string(name_of(tilt.axis)), &tilt.tilt});
  }
  rows.push_back({"spread", &report.spread, false, false});
  if (report.dial_gap) rows.push_back({"dial gap", &*report.dial_gap});
  if (!spots.empty()) {
    rows.push_back({});
    rows.push_back({"Each spot runs, against the level"});
  }
  for (std::size_t i = 0; i < spots.size(); ++i) {
    constexpr std::size_t group = 5;
    if (i > 0 && i % group == 0 && spots.size() > crowd) rows.push_back({});
    rows.push_back({shortened(clean_name(spots[i]->spot), longest_spot), &spots[i]->runs});
  }
  return rows;
}

/// Cells of one column; headings stay empty.
std::vector<std::string> cells_of(
    const std::vector<Row>& rows,
    const std::function<const call::Estimate*(const call::Quantity&)>& estimate_of, bool is_change,
    Scale scale) {
  std::vector<std::optional<Shown>> shown;
  for (const auto& row : rows) {
    const auto* estimate = row.quantity == nullptr ? nullptr : estimate_of(*row.quantity);
    if (estimate == nullptr) {
      shown.emplace_back();
      continue;
    }
    auto cell = row.is_reading && !is_change ? shown_reading(*estimate, scale)
                                             : shown_difference(*estimate, scale);
    cell.sign = is_change || row.sign;
    shown.emplace_back(cell);
  }
  auto cells = aligned_ranges(shown, std::string(missing));
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].quantity == nullptr) cells[i].clear();
  }
  return cells;
}

Column setting_column(const CallView& view, const std::vector<Row>& rows, int setting) {
  const auto estimate = [&](const call::Quantity& quantity) {
    return estimate_at(quantity, setting);
  };
  return {setting_head(view, setting), cells_of(rows, estimate, false, view.scale)};
}

std::string pair_head(const CallView& view, int from, int to) {
  return setting_head(view, from) + " → " + setting_head(view, to);
}

/// A change and, beside it, its word.
Column change_column(const CallView& view, const std::vector<Row>& rows, int from, int to) {
  const auto estimate = [&](const call::Quantity& quantity) -> const call::Estimate* {
    const auto* change = change_between(quantity, from, to);
    return change != nullptr && change->estimate ? &*change->estimate : nullptr;
  };
  Column column{pair_head(view, from, to), cells_of(rows, estimate, true, view.scale)};
  int width = 0;
  for (const auto& cell : column.cells) width = std::max(width, display_width(cell));
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].quantity == nullptr) continue;
    const auto* change = change_between(*rows[i].quantity, from, to);
    if (change != nullptr) {
      column.cells[i] = padded_right(column.cells[i], width) + "  " + word_cell(*change);
    }
  }
  return column;
}

std::vector<std::string> labels_of(const std::vector<Row>& rows) {
  std::vector<std::string> labels;
  labels.reserve(rows.size());
  for (const auto& row : rows) labels.push_back(row.label);
  return labels;
}

/// Pairs that any question has a change for.
std::vector<std::pair<int, int>> pairs_of(const call::Report& report) {
  std::vector<std::pair<int, int>> pairs;
  const auto settings = static_cast<int>(report.settings.size());
  for (int from = 0; from < settings; ++from) {
    for (int to = from + 1; to < settings; ++to) {
      if (change_between(report.level, from, to) != nullptr) pairs.emplace_back(from, to);
    }
  }
  return pairs;
}

}  // namespace

std::string setting_head(const CallView& view, int setting) {
  const auto name = setting_name(view, setting);
  return display_width(name) <= longest_head ? name : fmt::format("({})", setting + 1);
}

std::string call_table(const CallView& view, bool every_spot) {
  auto spots = spots_in_order(view.report);
  const auto rows = rows_of(view.report, spots);
  std::vector<Column> settings;
  settings.reserve(view.report.settings.size() + 1);  // one change where there are two
  for (int setting = 0; setting < std::ssize(view.report.settings); ++setting) {
    settings.push_back(setting_column(view, rows, setting));
  }
  const auto corner = scale_mark(view.scale);
  const auto pairs = pairs_of(view.report);
  if (settings.size() <= 2) {
    for (const auto& [from, to] : pairs) settings.push_back(change_column(view, rows, from, to));
    return table_text(corner, labels_of(rows), settings, page_width);
  }
  auto text = table_text(corner, labels_of(rows), settings, page_width);
  if (pairs.empty()) return text;

  std::size_t quiet = 0;
  if (spots.size() > crowd && !every_spot) {
    quiet = std::erase_if(spots, [](const call::SpotCall* spot) { return !is_notable(*spot); });
  }
  const auto change_rows = rows_of(view.report, spots);
  std::vector<Column> changes;
  changes.reserve(pairs.size());
  for (const auto& [from, to] : pairs) {
    changes.push_back(change_column(view, change_rows, from, to));
  }
  text += "\n" + table_text(corner, labels_of(change_rows), changes, page_width);
  if (quiet > 0) {
    text += fmt::format("No odds, or muddled, at {} {}spots; --explain lists them.\n", quiet,
                        spots.empty() ? "" : "more ");
  }
  return text;
}

std::string reading_table(const CallView& view) {
  std::vector<call::Quantity> readings;  // rows point into it
  readings.reserve(view.report.spots.size());
  std::vector<Row> rows;
  for (const auto* spot : spots_in_order(view.report)) {
    readings.push_back({{}, spot->reading_changes});
    rows.push_back({shortened(clean_name(spot->spot), longest_spot), &readings.back()});
  }
  std::vector<Column> columns;
  Column channels{"channel", {}};
  for (const auto* spot : spots_in_order(view.report)) {
    channels.cells.push_back(shortened(clean_name(spot->channel), longest_spot));
  }
  if (!rows.empty()) columns.push_back(channels);
  for (const auto& [from, to] : pairs_of(view.report)) {
    const auto estimate = [one = from, other = to](const call::Quantity& quantity) {
      const auto* change = change_between(quantity, one, other);
      return change != nullptr && change->estimate ? &*change->estimate : nullptr;
    };
    columns.push_back({pair_head(view, from, to), cells_of(rows, estimate, true, view.scale)});
  }
  return columns.size() < 2
             ? ""
             : table_text(scale_mark(view.scale), labels_of(rows), columns, page_width);
}

std::string word_range_table(const CallView& view) {
  const auto rows = rows_of(view.report, spots_in_order(view.report));
  std::vector<Column> columns;
  for (const auto& [from, to] : pairs_of(view.report)) {
    Column column{pair_head(view, from, to), {}};
    for (const auto& row : rows) {
      const auto* change =
          row.quantity == nullptr ? nullptr : change_between(*row.quantity, from, to);
      column.cells.emplace_back(row.quantity == nullptr ? "" : missing);
      if (change == nullptr || !change->estimate) continue;
      const auto shown = shown_difference(
          {change->estimate->value, change->word_low, change->word_high}, view.scale);
      column.cells.back() = range_text(shown);
    }
    columns.push_back(std::move(column));
  }
  if (columns.empty()) return "";
  return table_text(scale_mark(view.scale), labels_of(rows), columns, page_width);
}

}  // namespace pitwright::report
