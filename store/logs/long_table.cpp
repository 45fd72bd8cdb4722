#include "logs/long_table.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "logs/unit_words.h"

namespace pitwright::logs {

LongTable::LongTable(const Shape& shape, const LongLayout& layout, Encoding encoding, Tally& tally)
    : layout_(layout),
      decimal_(shape.decimal),
      encoding_(encoding),
      tally_(tally),
      table_unit_(shape.header.units[layout_.value]),
      latest_(std::numeric_limits<std::int64_t>::min()) {}

LongTable::Column& LongTable::column_of(std::string_view name) {
  const auto [found, fresh] = by_name_.try_emplace(std::string(name), columns_.size());
  if (fresh) {
    Column column;
    column.channel.name = to_utf8(name, encoding_);
    const auto own = units_of_names(std::span(&column.channel.name, 1)).front();
    column.channel.unit = own == ChannelUnit::unknown ? table_unit_ : own;
    column.channel.unit_from_file = column.channel.unit != ChannelUnit::unknown;
    columns_.push_back(std::move(column));
  }
  return columns_[found->second];
}

/// Settles the channel's unit by its first row that tells one; later rows must agree.
bool LongTable::unit_fits(const Row& row, const Reading& reading, LogChannel& channel) {
  auto unit = reading.unit;
  if (unit == ChannelUnit::unknown && layout_.unit && *layout_.unit < row.cells.size()) {
    unit = unit_of_word(row.cells[*layout_.unit]).value_or(ChannelUnit::unknown);
  }
  if (unit == ChannelUnit::unknown) return true;
  if (channel.unit == ChannelUnit::unknown) {
    channel.unit = unit;
    channel.unit_from_file = true;
  }
  if (channel.unit == unit) return true;
  const auto column = static_cast<int>(layout_.unit.value_or(layout_.value)) + 1;
  tally_.skip_row(row.line, column,
                  fmt::format("in {}, but '{}' is in {}", unit_name(unit), channel.name,
                              unit_name(channel.unit)));
  return false;
}

void LongTable::row(const Row& row) {
  const auto name = layout_.name < row.cells.size() ? row.cells[layout_.name] : "";
  const auto cell = layout_.value < row.cells.size() ? row.cells[layout_.value] : "";
  if (name.empty()) {
    tally_.skip_row(row.line, static_cast<int>(layout_.name) + 1, "no channel named");
    return;
  }
  const auto reading = reading_of(cell, decimal_);
  if (reading.kind == Reading::Kind::broken) {
    tally_.skip_row(row.line, static_cast<int>(layout_.value) + 1, not_a_number(cell, encoding_));
    return;
  }
  auto& column = column_of(name);
  const bool missing = reading.kind == Reading::Kind::missing;
  if (!missing && !unit_fits(row, reading, column.channel)) return;
  column.channel.missing += missing;
  if (row.ms < latest_) tally_.out_of_order();
  latest_ = std::max(latest_, row.ms);
  column.ordered = column.ordered && (column.ms.empty() || row.ms > column.ms.back());
  column.ms.push_back(row.ms);
  column.channel.values.push_back(missing ? std::numeric_limits<double>::quiet_NaN()
                                          : reading.value);
}

void LongTable::merge(Column& column) {
  const auto order = order_of(column.ms);
  std::vector<std::int64_t> ms;
  std::vector<double> values;
  for (const auto i : order) {
    const double value = column.channel.values[i];
    if (ms.empty() || ms.back() != column.ms[i]) {
      ms.push_back(column.ms[i]);
      values.push_back(value);
    } else if (!std::isnan(value)) {
      values.back() = value;
    }
  }
  tally_.duplicates(static_cast<std::int64_t>(column.ms.size() - ms.size()));
  column.ms = std::move(ms);
  column.channel.values = std::move(values);
}

void LongTable::finish(Log& log) {
  std::size_t most = 0;
  for (auto& column : columns_) {
    if (!column.ordered) merge(column);
    column.channel.ms = StampColumn(std::move(column.ms));
    if (column.channel.ms.size() > most) {
      most = column.channel.ms.size();
      log.interval_s = median_step_s(column.channel.ms);
    }
    log.channels.push_back(std::move(column.channel));
  }
}

}  // namespace pitwright::logs
