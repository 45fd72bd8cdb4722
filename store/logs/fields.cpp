#include "logs/fields.h"

#include <algorithm>
#include <optional>

namespace pitwright::logs {
namespace {

constexpr auto npos = std::string_view::npos;
/// A quoted cell longer than this is a lost quote.
constexpr std::size_t longest_quoted = std::size_t{64} * 1024;

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\r';
}

/// Past the closing quote of the cell whose opening quote is at `at`; npos: never closed, or closed
/// in the middle of a cell.
std::size_t past_quoted(std::string_view text, std::size_t at, char delimiter) {
  text = text.substr(0, std::min(text.size(), at + longest_quoted));
  auto i = at + 1;
  while (true) {
    i = text.find('"', i);
    if (i == npos) return npos;
    if (i + 1 < text.size() && text[i + 1] == '"') {
      i += 2;
      continue;
    }
    const auto past = i + 1;
    i = past;
    while (i < text.size() && is_blank(text[i]) && text[i] != delimiter) ++i;
    const bool ends = i == text.size() || text[i] == '\n' || text[i] == delimiter ||
                      (delimiter == ' ' && is_blank(text[past]));
    return ends ? past : npos;
  }
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (is_blank(text.front()) || text.front() == '\n')) text.remove_prefix(1);
  while (!text.empty() && (is_blank(text.back()) || text.back() == '\n')) text.remove_suffix(1);
  return text;
}

std::size_t record_length(std::string_view text, char delimiter) {
  const auto line = text.find('\n') + 1;
  if (text.substr(0, line).find('"') == npos) return line;
  std::size_t i = 0;
  while (i < text.size()) {
    while (i < text.size() && is_blank(text[i]) && text[i] != delimiter) ++i;
    if (i < text.size() && text[i] == '"') {
      const auto past = past_quoted(text, i, delimiter);
      if (past == npos) return line;
      i = past;
    }
    while (i < text.size() && text[i] != delimiter && text[i] != '\n') ++i;
    if (i < text.size() && text[i] == '\n') return i + 1;
    ++i;
  }
  return line;
}

/// Reads the quoted cell at `at` into cells_; the place after it, or npos where it is not one.
std::size_t Splitter::quoted(std::string_view record, std::size_t at) {
  const auto past = past_quoted(record, at, delimiter_);
  if (past == npos) return npos;
  const auto inner = record.substr(at + 1, past - at - 2);
  if (inner.find('"') == npos) {
    cells_.push_back(trimmed(inner));
    return past;
  }
  const auto start = unescaped_.size();
  for (std::size_t i = 0; i < inner.size(); ++i) {
    unescaped_ += inner[i];
    if (inner[i] == '"') ++i;
  }
  cells_.push_back(trimmed(std::string_view(unescaped_).substr(start)));
  return past;
}

const std::vector<std::string_view>& Splitter::split(std::string_view record) {
  cells_.clear();
  unescaped_.clear();
  unescaped_.reserve(record.size());  // views into it stay good
  if (record.ends_with('\n')) record.remove_suffix(1);
  if (record.ends_with('\r')) record.remove_suffix(1);
  std::size_t i = 0;
  while (i <= record.size()) {
    while (i < record.size() && is_blank(record[i]) &&
           (delimiter_ == ' ' || record[i] != delimiter_)) {
      ++i;
    }
    if (delimiter_ == ' ' && i == record.size()) break;
    if (i < record.size() && record[i] == '"') {
      const auto past = quoted(record, i);
      if (past != npos) {
        i = past;
        while (i < record.size() && !is_delimiter(record[i])) ++i;
        ++i;
        continue;
      }
    }
    const auto start = i;
    while (i < record.size() && !is_delimiter(record[i])) ++i;
    cells_.push_back(trimmed(record.substr(start, i - start)));
    ++i;
  }
  return cells_;
}

}  // namespace pitwright::logs
