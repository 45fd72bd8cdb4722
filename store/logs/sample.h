#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "logs/log.h"

namespace pitwright::logs {

/// One record near the start of a file, cut into cells.
struct SampleRecord {
  std::size_t offset = 0;  ///< of its first byte in the sample
  std::int64_t line = 1;   ///< 1-based line it starts on
  std::string_view text;
  std::vector<std::string> cells;
};

/// The first records of a file that are not blank, and how their cells are parted.
struct Sample {
  char delimiter = ',';
  char decimal = '.';
  std::vector<SampleRecord> records;
  std::size_t cells = 0;  ///< cells of most records in the later half
};

/// Finds the delimiter and decimal mark that make the most cells of the later half of the records
/// numbers, times or words for "missing", in records of one length; a hint settles either.
/// Comma, semicolon, tab and runs of blanks are tried. nullopt: no two cells in a row.
std::optional<Sample> take_sample(std::string_view text, const Hints& hints);

/// The records of the sample whose cells tell the kinds of columns: the later half, those of the
/// usual length only.
std::vector<const SampleRecord*> body_of(const Sample& sample);

/// A cell that is a number, alone or with a unit behind it.
struct NumberCell {
  double value;
  ChannelUnit unit;  ///< unknown: none written
};
std::optional<NumberCell> number_of(std::string_view cell, char decimal);

}  // namespace pitwright::logs
