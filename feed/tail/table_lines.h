#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "logs/clock.h"
#include "logs/fields.h"
#include "logs/log.h"
#include "logs/shape.h"
#include "readings/reading.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// Turns the lines of a growing table into readings, with the readers of store/logs: they find out
/// what the table is from its first lines, then every line is a row.
class TableLines {
 public:
  TableLines(std::string source, logs::Hints hints, Troubles& troubles)
      : source_(std::move(source)), hints_(std::move(hints)), troubles_(&troubles) {}

  /// What was known is void: another table begins.
  void restart();
  /// Learns the shape from a table's beginning, without giving readings, to go on in the middle.
  /// False: it does not show there.
  bool learn(std::string_view head);
  /// Whole lines; adds their readings to `out`.
  /// Fails: bad_input where the table needs a word from a person.
  Result<void> read(std::string_view lines, std::vector<Reading>& out);
  /// Bytes at hand that wait until the shape is known.
  std::size_t waiting() const { return unread_.size(); }
  /// Where another header stood in what was read last, in bytes before its end.
  std::optional<std::size_t> new_table() const { return new_table_; }

 private:
  Result<void> take(std::string_view lines, std::vector<Reading>& out);
  Result<bool> find_out(bool enough);
  void row(std::string_view line, std::vector<Reading>& out);
  void wide(const std::vector<std::string_view>& cells, Moment at, std::vector<Reading>& out);
  void one(const std::vector<std::string_view>& cells, Moment at, std::vector<Reading>& out);
  void add(const std::string& channel, std::string_view cell, logs::ChannelUnit unit, Moment at,
           std::vector<Reading>& out);
  bool is_header(const std::vector<std::string_view>& cells) const;
  void refuse(std::string_view kind, std::string_view what);

  std::string source_;
  logs::Hints hints_;
  Troubles* troubles_;
  std::string unread_;  ///< lines from the start of the table, while its shape is unknown
  std::optional<std::size_t> new_table_;
  std::optional<logs::Shape> shape_;
  std::optional<logs::Clock> clock_;
  std::optional<logs::Splitter> splitter_;
};

}  // namespace pitwright::feed
