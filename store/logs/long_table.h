#pragma once

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "logs/rows.h"
#include "logs/shape.h"

namespace pitwright::logs {

/// Gathers the channels of a long table: one row, one reading of the channel it names.
class LongTable {
 public:
  LongTable(const Shape& shape, const LongLayout& layout, Encoding encoding, Tally& tally);

  /// No quick way: every row names its channel.
  const char* quick_row(const char*, const char*, Clock&) { return nullptr; }

  void row(const Row& row);

  /// Moves the channels into `log`, in order, later values over earlier ones of the same stamp.
  void finish(Log& log);

 private:
  struct Column {
    LogChannel channel;
    std::vector<std::int64_t> ms;
    bool ordered = true;
  };
  Column& column_of(std::string_view name);
  bool unit_fits(const Row& row, const Reading& reading, LogChannel& channel);
  void merge(Column& column);

  LongLayout layout_;
  char decimal_;
  Encoding encoding_;
  Tally& tally_;
  ChannelUnit table_unit_;  ///< told by the name of the value's column
  std::vector<Column> columns_;
  std::unordered_map<std::string, std::size_t> by_name_;
  std::int64_t latest_;
};

}  // namespace pitwright::logs
