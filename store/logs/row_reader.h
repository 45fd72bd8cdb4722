#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "logs/clock.h"
#include "logs/fields.h"
#include "logs/rows.h"
#include "logs/shape.h"
#include "logs/text_stream.h"

namespace pitwright::logs {

/// Walks over the records of a file from its first data row on.
class RecordWalk {
 public:
  RecordWalk(TextStream& text, const Shape& shape)
      : text_(text), delimiter_(shape.delimiter), line_(shape.data_line) {
    text_.consume(shape.data_offset);
  }

  /// Makes text available; false at the end.
  bool more() { return !text_.window().empty() || text_.extend(); }
  std::string_view window() const { return text_.window(); }
  std::int64_t line() const { return line_; }

  /// The record the window starts with; a quoted cell that reaches past the window brings more in.
  std::string_view record() {
    auto length = record_length(text_.window(), delimiter_);
    const auto first_line = text_.window().find('\n') + 1;
    const bool quote_open = length == first_line &&
                            text_.window().substr(0, length).contains('"') &&
                            text_.window().size() < 2 * longest_quoted;
    if (quote_open && text_.extend()) length = record_length(text_.window(), delimiter_);
    return text_.window().substr(0, length);
  }

  void pass(std::size_t bytes, std::int64_t lines) {
    text_.consume(bytes);
    line_ += lines;
  }

 private:
  static constexpr std::size_t longest_quoted = std::size_t{64} * 1024;
  TextStream& text_;
  char delimiter_;
  std::int64_t line_;
};

/// Reads all rows of a file into a table, one by one, the plain ones quickly.
template <typename Table>
class RowReader {
 public:
  RowReader(const Shape& shape, Encoding encoding, Clock& clock, Tally& tally, Table& table)
      : shape_(shape),
        encoding_(encoding),
        clock_(clock),
        tally_(tally),
        table_(table),
        splitter_(shape.delimiter) {}

  void read(RecordWalk& walk) {
    while (walk.more()) {
      const auto window = walk.window();
      const char* p = window.data();
      const char* const end = p + window.size();
      std::int64_t lines = 0;
      while (p < end) {
        const char* const past = table_.quick_row(p, end, clock_);
        if (past == nullptr) break;
        p = past;
        ++lines;
      }
      walk.pass(static_cast<std::size_t>(p - window.data()), lines);
      if (p < end) slow_row(walk);
    }
  }

 private:
  void slow_row(RecordWalk& walk) {
    auto record = walk.record();
    const auto first_line = record.find('\n') + 1;
    if (first_line < record.size() && hides_rows(record.substr(first_line))) {
      record = record.substr(0, first_line);
    }
    if (!trimmed(record).empty()) take(splitter_.split(record), walk.line());
    walk.pass(record.size(), std::ranges::count(record, '\n'));
  }

  /// Whether a line inside a quoted cell is a row by itself: then the quote was a broken byte.
  bool hides_rows(std::string_view lines) {
    while (!lines.empty()) {
      const auto line = lines.substr(0, lines.find('\n') + 1);
      const auto& cells = splitter_.split(line);
      const auto column = static_cast<std::size_t>(shape_.time.form.column);
      if (cells.size() >= shape_.least_cells && cells.size() <= shape_.most_cells &&
          clock_.could_read(cells[column])) {
        return true;
      }
      lines.remove_prefix(line.size());
    }
    return false;
  }

  bool right_length(const std::vector<std::string_view>& cells) const {
    if (cells.size() < shape_.least_cells) return false;
    return std::all_of(
        cells.begin() + static_cast<std::ptrdiff_t>(std::min(cells.size(), shape_.most_cells)),
        cells.end(), [](std::string_view cell) { return cell.empty(); });
  }

  void take(const std::vector<std::string_view>& cells, std::int64_t line) {
    tally_.row_seen();
    const auto& form = shape_.time.form;
    if (!right_length(cells)) {
      tally_.skip_row(line, 0,
                      fmt::format("{} {} where {} are expected", cells.size(),
                                  cells.size() == 1 ? "cell" : "cells", shape_.most_cells));
      return;
    }
    const auto time = cells[static_cast<std::size_t>(form.column)];
    const auto clock_cell = form.clock_column < 0
                                ? std::string_view{}
                                : cells[static_cast<std::size_t>(form.clock_column)];
    const auto ms = clock_.read(time, clock_cell);
    if (!ms) {
      const bool again = shape_.header_line > 0 &&
                         time == shape_.header.names[static_cast<std::size_t>(form.column)];
      tally_.skip_row(line, form.column + 1,
                      again ? "the header again" : to_utf8(clock_.reason(), encoding_));
      return;
    }
    table_.row({cells, line, *ms});
  }

  const Shape& shape_;
  Encoding encoding_;
  Clock& clock_;
  Tally& tally_;
  Table& table_;
  Splitter splitter_;
};

}  // namespace pitwright::logs
