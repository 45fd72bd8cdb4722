#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "logs/clock.h"
#include "logs/rows.h"
#include "logs/shape.h"

namespace pitwright::logs {

/// Gathers the columns of a wide table: one row, one stamp, one reading a channel.
class WideTable {
 public:
  /// `rows` is a guess, to set memory aside.
  WideTable(const Shape& shape, Encoding encoding, Tally& tally, std::size_t rows);

  /// Reads a row of plain numbers of the usual length straight from the text at `p`: the place
  /// after its line end. nullptr where anything is out of the ordinary, and nothing has been taken.
  /// Pre: a '\n' follows `p`.
  const char* quick_row(const char* p, const char* end, Clock& clock);

  void row(const Row& row);

  /// Moves the channels into `log`, in order, later values over earlier ones of the same stamp.
  void finish(Log& log);

 private:
  struct Column {
    LogChannel channel;
    std::size_t cell = 0;
  };
  enum class Role : unsigned char { skip, time, reading };

  void add_stamp(std::int64_t ms);
  void take_cell(Column& column, std::string_view cell, std::int64_t line);
  bool ends_cell(char c) const { return c == delimiter_ || c == '\n' || c == '\r'; }
  const char* quick_text(const char* p, std::string_view& cell) const;
  const char* quick_reading(const char* p, double& value);
  const char* quick_cells(const char* p, const char* end, std::string_view& time);
  void merge();

  Encoding encoding_;
  Tally& tally_;
  char delimiter_;
  char decimal_;
  std::vector<Column> columns_;
  std::vector<std::int64_t> ms_;
  std::int64_t latest_;
  bool ordered_ = true;  ///< stamps ascend strictly

  bool can_be_quick_;
  std::vector<Role> roles_;    ///< of the cells of a row
  std::string last_missing_;   ///< the word for "missing" met last
  std::vector<double> quick_;  ///< readings of the row at hand
};

}  // namespace pitwright::logs
