#include "logs/header.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "logs/fields.h"
#include "logs/stamps.h"
#include "logs/unit_words.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

/// Columns whose cells must fit in the first data row: those of times, else the first of numbers.
std::vector<std::size_t> telling_columns(const std::vector<ColumnLook>& looks) {
  std::vector<std::size_t> columns;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    if (looks[i].mostly(looks[i].dated + looks[i].dates + looks[i].clocks)) columns.push_back(i);
  }
  if (!columns.empty()) return columns;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    if (looks[i].mostly(looks[i].numbers)) return {i};
  }
  return {};
}

bool is_data_row(const SampleRecord& record, const Sample& sample,
                 const std::vector<ColumnLook>& looks, const std::vector<std::size_t>& telling) {
  if (record.cells.size() < 2) return false;
  for (const auto i : telling) {
    if (i >= record.cells.size()) return false;
    const bool number = looks[i].mostly(looks[i].numbers);
    const auto& cell = record.cells[i];
    if (number ? !number_of(cell, sample.decimal).has_value() : !is_stamp(cell)) return false;
  }
  return true;
}

/// Whether a row above the data holds names rather than readings that went wrong.
bool is_header_like(const SampleRecord& record, char decimal) {
  std::size_t told = 0, texts = 0;
  for (const auto& cell : record.cells) {
    if (names_time(cell) && !number_of(cell, decimal)) return true;
    if (cell.empty()) continue;
    ++told;
    texts += !number_of(cell, decimal) && !is_stamp(cell) && !is_missing_word(cell);
  }
  return texts > 0 && texts * 2 >= told;
}

bool is_units_row(const SampleRecord& record) {
  std::size_t told = 0, units = 0;
  for (const auto& cell : record.cells) {
    if (cell.empty()) continue;
    ++told;
    units += unit_of_word(cell).has_value() || time_unit_ms(cell).has_value();
  }
  return units > 0 && units * 2 >= told;
}

/// Names of a table parted by blanks that hold blanks themselves: parted where two blanks stand.
std::vector<std::string> widely_parted(std::string_view record) {
  std::vector<std::string> cells;
  record = trimmed(record);
  while (!record.empty()) {
    const auto end = std::min(record.find("  "), record.find('\t'));
    cells.emplace_back(trimmed(record.substr(0, end)));
    record = end == record.npos ? std::string_view{} : trimmed(record.substr(end));
  }
  return cells;
}

/// The names as they stand, one a cell of the rows below; empty: they do not fit.
std::vector<std::string> fitted_names(const SampleRecord& record, const Sample& sample,
                                      const std::vector<ColumnLook>& looks) {
  auto cells = record.cells;
  if (sample.delimiter == ' ') {
    const bool split_stamp =
        looks.size() > 1 && looks[0].mostly(looks[0].dates) && looks[1].mostly(looks[1].clocks);
    if (cells.size() > sample.cells) cells = widely_parted(record.text);
    if (split_stamp && cells.size() + 1 == sample.cells) cells.insert(cells.begin() + 1, "");
    if (cells.size() != sample.cells) return {};
  }
  if (cells.size() < 2) return {};
  cells.resize(std::max(cells.size(), sample.cells));
  return cells;
}

/// Makes names text, not empty and different.
void settle_names(std::vector<std::string>& names, Encoding encoding) {
  std::set<std::string> taken;
  for (std::size_t i = 0; i < names.size(); ++i) {
    auto name = to_utf8(names[i], encoding);
    if (name.starts_with("# ")) name.erase(0, 2);
    std::ranges::replace(name, '\n', ' ');
    if (name.empty()) name = fmt::format("{}", i + 1);
    auto unique = name;
    for (int n = 2; taken.contains(unique); ++n) unique = fmt::format("{} ({})", name, n);
    taken.insert(unique);
    names[i] = unique;
  }
}

void find_names(const Sample& sample, const std::vector<ColumnLook>& looks, std::size_t above,
                Header& header) {
  const auto& records = sample.records;
  // Rows that are mostly numbers are data that went wrong: they stay below the header.
  while (above > 0 && !is_header_like(records[above - 1], sample.decimal) &&
         !is_units_row(records[above - 1]) && records[above - 1].cells.size() >= 2) {
    --above;
  }
  if (above == 0) {
    header.first_data = 0;
    return;
  }
  auto at = above - 1;
  if (at > 0 && is_units_row(records[at]) && records[at - 1].cells.size() >= 2 &&
      records[at - 1].cells.size() + 1 >= sample.cells) {
    header.units_at = at;
    --at;
  }
  if (records[at].cells.size() < 2) return;
  header.first_data = above;
  header.names = fitted_names(records[at], sample, looks);
  header.names_do_not_fit = header.names.empty();
  if (!header.names_do_not_fit) header.names_at = at;
}

void find_units(const Sample& sample, Encoding encoding, Header& header) {
  header.units = units_of_names(header.names);
  header.unit_words.resize(header.names.size());
  if (!header.units_at) return;
  const auto& row = sample.records[*header.units_at].cells;
  for (std::size_t i = 0; i < std::min(row.size(), header.units.size()); ++i) {
    header.unit_words[i] = to_utf8(row[i], encoding);
    const auto unit = unit_of_word(header.unit_words[i]);
    if (unit) header.units[i] = *unit;
    if (!unit && !row[i].empty() && header.units[i] == ChannelUnit::unknown) {
      header.units[i] = ChannelUnit::other;
    }
  }
}

}  // namespace

std::optional<Header> find_header(const Sample& sample, const std::vector<ColumnLook>& looks,
                                  Encoding encoding) {
  const auto telling = telling_columns(looks);
  if (telling.empty()) return std::nullopt;
  const auto first = std::ranges::find_if(sample.records, [&](const SampleRecord& record) {
    return is_data_row(record, sample, looks, telling);
  });
  if (first == sample.records.end()) return std::nullopt;
  Header header;
  header.first_data = static_cast<std::size_t>(first - sample.records.begin());
  find_names(sample, looks, header.first_data, header);
  if (header.names.empty()) header.names.resize(sample.cells);
  settle_names(header.names, encoding);
  find_units(sample, encoding, header);
  return header;
}

}  // namespace pitwright::logs
