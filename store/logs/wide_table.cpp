#include "logs/wide_table.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "logs/fields.h"
#include "logs/number.h"
#include "logs/unit_words.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

}  // namespace

WideTable::WideTable(const Shape& shape, Encoding encoding, Tally& tally, std::size_t rows)
    : encoding_(encoding),
      tally_(tally),
      delimiter_(shape.delimiter),
      decimal_(shape.decimal),
      latest_(std::numeric_limits<std::int64_t>::min()),
      can_be_quick_(shape.delimiter != ' ' && shape.delimiter != shape.decimal &&
                    shape.time.form.clock_column < 0),
      roles_(shape.most_cells, Role::skip) {
  for (const auto cell : shape.wide.channels) {
    Column column;
    column.cell = cell;
    column.channel.name = shape.header.names[cell];
    column.channel.unit = shape.header.units[cell];
    column.channel.unit_from_file = column.channel.unit != ChannelUnit::unknown;
    column.channel.values.reserve(rows);
    columns_.push_back(std::move(column));
    roles_[cell] = Role::reading;
  }
  roles_[static_cast<std::size_t>(shape.time.form.column)] = Role::time;
  quick_.resize(columns_.size());
  ms_.reserve(rows);
}

void WideTable::add_stamp(std::int64_t ms) {
  ms_.push_back(ms);
  if (ms > latest_) {
    latest_ = ms;
    return;
  }
  ordered_ = false;
  if (ms < latest_) tally_.out_of_order();
}

/// The cell at `p` as text; the place after it, or nullptr where its quotes are not simple.
const char* WideTable::quick_text(const char* p, std::string_view& cell) const {
  const bool quoted = *p == '"';
  const char* const from = quoted ? ++p : p;
  while (*p != '"' && *p != '\n' && (quoted || *p != delimiter_)) ++p;
  cell = trimmed({from, static_cast<std::size_t>(p - from)});
  if (quoted != (*p == '"')) return nullptr;
  p += quoted ? 1 : 0;
  return ends_cell(*p) ? p : nullptr;
}

/// The reading at `p`, or that it is missing; nullptr where it is anything else.
const char* WideTable::quick_reading(const char* p, double& value) {
  while (*p == ' ') ++p;
  value = nan;
  if (ends_cell(*p)) return p;
  const bool quoted = *p == '"';
  const char* past = scan_number(quoted ? p + 1 : p, decimal_, value);
  if (past != nullptr && quoted) past = *past == '"' ? past + 1 : nullptr;
  while (past != nullptr && *past == ' ') ++past;
  if (past != nullptr && ends_cell(*past)) {
    if (is_missing_code(value)) value = nan;
    return past;
  }
  std::string_view cell;
  past = quick_text(p, cell);
  if (past == nullptr) return nullptr;
  if (cell != last_missing_) {
    if (!is_missing_word(cell)) return nullptr;
    last_missing_ = cell;
  }
  value = nan;
  return past;
}

/// The readings of a row at `p` into quick_; the place after the line end, or nullptr.
const char* WideTable::quick_cells(const char* p, const char* end, std::string_view& time) {
  double* reading = quick_.data();
  const auto last = roles_.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    std::string_view cell;
    p = roles_[i] == Role::reading ? quick_reading(p, *reading++) : quick_text(p, cell);
    if (p == nullptr) return nullptr;
    if (roles_[i] == Role::time) time = cell;
    if (i < last) {
      if (*p != delimiter_) return nullptr;
      ++p;
    }
  }
  if (*p == '\r' && p + 1 < end) ++p;
  return *p == '\n' ? p + 1 : nullptr;
}

const char* WideTable::quick_row(const char* p, const char* end, Clock& clock) {
  if (!can_be_quick_) return nullptr;
  std::string_view time;
  const char* const past = quick_cells(p, end, time);
  if (past == nullptr || time.empty()) return nullptr;
  const auto ms = clock.read(time, {});
  if (!ms) return nullptr;
  tally_.row_seen();
  add_stamp(*ms);
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    auto& channel = columns_[i].channel;
    channel.missing += std::isnan(quick_[i]);
    channel.values.push_back(quick_[i]);
  }
  return past;
}

void WideTable::take_cell(Column& column, std::string_view cell, std::int64_t line) {
  auto& channel = column.channel;
  const auto reading = reading_of(cell, decimal_);
  channel.values.push_back(nan);
  const auto place = static_cast<int>(column.cell) + 1;
  if (reading.kind == Reading::Kind::missing) {
    ++channel.missing;
    return;
  }
  if (reading.kind == Reading::Kind::broken) {
    tally_.skip_cell(line, place, not_a_number(cell, encoding_));
    return;
  }
  if (reading.unit != ChannelUnit::unknown) {
    if (channel.unit == ChannelUnit::unknown) {
      channel.unit = reading.unit;
      channel.unit_from_file = true;
    }
    if (channel.unit != reading.unit) {
      tally_.skip_cell(line, place,
                       fmt::format("'{}' is in {}, the column in {}", to_utf8(cell, encoding_),
                                   unit_name(reading.unit), unit_name(channel.unit)));
      return;
    }
  }
  channel.values.back() = reading.value;
}

void WideTable::row(const Row& row) {
  add_stamp(row.ms);
  for (auto& column : columns_) {
    take_cell(column, column.cell < row.cells.size() ? row.cells[column.cell] : "", row.line);
  }
}

/// Puts rows in order of their stamps; of one stamp, each channel keeps its last value.
void WideTable::merge() {
  const auto order = order_of(ms_);
  std::vector<std::int64_t> ms;
  std::vector<std::size_t> into(order.size());
  ms.reserve(order.size());
  for (std::size_t k = 0; k < order.size(); ++k) {
    if (ms.empty() || ms.back() != ms_[order[k]]) ms.push_back(ms_[order[k]]);
    into[k] = ms.size() - 1;
  }
  tally_.duplicates(static_cast<std::int64_t>(ms_.size() - ms.size()));
  for (auto& column : columns_) {
    auto& values = column.channel.values;
    std::vector<double> merged(ms.size(), nan);
    for (std::size_t k = 0; k < order.size(); ++k) {
      if (!std::isnan(values[order[k]])) merged[into[k]] = values[order[k]];
    }
    values = std::move(merged);
  }
  ms_ = std::move(ms);
}

void WideTable::finish(Log& log) {
  if (!ordered_) merge();
  const StampColumn stamps(std::move(ms_));
  log.interval_s = median_step_s(stamps);
  for (auto& column : columns_) {
    column.channel.ms = stamps;
    log.channels.push_back(std::move(column.channel));
  }
}

}  // namespace pitwright::logs
