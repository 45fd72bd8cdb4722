#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "logs/header.h"
#include "logs/layout.h"
#include "logs/time_column.h"

namespace pitwright::logs {

/// Everything the start of a file tells of the rest of it.
struct Shape {
  char delimiter = ',';
  char decimal = '.';
  std::size_t data_offset = 0;   ///< of the first data row in the text
  std::int64_t data_line = 1;    ///< and its 1-based line
  std::int64_t header_line = 0;  ///< 0: none
  std::int64_t units_line = 0;   ///< 0: none
  std::size_t least_cells = 2;   ///< rows with fewer cells are broken
  std::size_t most_cells = 2;    ///< and with more, unless those are blank
  double bytes_a_row = 1.0;
  Header header;
  TimeColumn time;
  std::optional<LongLayout> long_layout;
  WideLayout wide;
};

/// Works out the shape of a table from its first records.
/// Fails: bad_input saying what could not be found.
Result<Shape> find_shape(std::string_view text, Encoding encoding, const Hints& hints);

/// The shape in sentences for people.
std::vector<std::string> told(const Shape& shape);

}  // namespace pitwright::logs
