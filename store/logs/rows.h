#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "logs/clock.h"
#include "logs/log.h"
#include "logs/shape.h"

namespace pitwright::logs {

/// What went wrong or astray while a log was read.
class Tally {
 public:
  explicit Tally(Log& log) : log_(log) {}

  void row_seen() { ++log_.rows; }
  void skip_row(std::int64_t line, int column, std::string_view reason);
  void skip_cell(std::int64_t line, int column, std::string_view reason);
  void out_of_order() { ++log_.out_of_order; }
  void duplicates(std::int64_t n) { log_.duplicates += n; }

 private:
  void note(std::int64_t line, int column, std::string_view reason);

  Log& log_;
};

/// The cells of one data row, and its time.
struct Row {
  const std::vector<std::string_view>& cells;  ///< trimmed
  std::int64_t line;
  std::int64_t ms;
};

/// What a cell of readings says.
struct Reading {
  enum class Kind { value, missing, broken };
  Kind kind = Kind::missing;
  double value = 0.0;
  ChannelUnit unit = ChannelUnit::unknown;  ///< written behind the number
};
Reading reading_of(std::string_view cell, char decimal);

/// "'12.x' is not a number", for a cell of any length and bytes.
std::string not_a_number(std::string_view cell, Encoding encoding);

/// Places that put `ms` into ascending order; rows of one stamp keep theirs.
std::vector<std::size_t> order_of(const std::vector<std::int64_t>& ms);

/// Median of the steps between stamps, in [s]; 0 for fewer than two. Pre: `ms` ascends.
double median_step_s(const StampColumn& ms);

}  // namespace pitwright::logs
