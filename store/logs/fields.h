#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pitwright::logs {

/// Blanks, tabs and CR around a cell are no part of it.
std::string_view trimmed(std::string_view text);

/// Length of the record at the start of `text`, its '\n' included. A quoted cell may hold line
/// ends; a quote that is never closed, or is followed by anything but a delimiter, is an ordinary
/// character and ends nothing but its own line. Pre: `text` holds a '\n'.
std::size_t record_length(std::string_view text, char delimiter);

/// Cuts records into cells.
class Splitter {
 public:
  explicit Splitter(char delimiter) : delimiter_(delimiter) {}

  /// Cells of a record (RFC 4180: quotes doubled inside quotes), trimmed. The delimiter ' ' means
  /// any run of blanks and tabs. Valid until the next call.
  const std::vector<std::string_view>& split(std::string_view record);

 private:
  std::size_t quoted(std::string_view record, std::size_t at);
  bool is_delimiter(char c) const { return c == delimiter_ || (delimiter_ == ' ' && c == '\t'); }

  char delimiter_;
  std::vector<std::string_view> cells_;
  std::string unescaped_;
};

}  // namespace pitwright::logs
