#include "report/text_table.h"

#include <algorithm>
#include <span>

#include "base/expects.h"
#include "report/text_width.h"

namespace pitwright::report {
namespace {

constexpr std::string_view gap = "  ";

int widest(std::span<const std::string> texts) {
  int width = 0;
  for (const auto& text : texts) width = std::max(width, display_width(text));
  return width;
}

int width_of(const Column& column) {
  return std::max(display_width(column.head), widest(column.cells));
}

std::string line_of(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line + "\n";
}

bool is_heading(const std::vector<Column>& columns, std::size_t row) {
  return std::ranges::all_of(columns, [&](const Column& c) { return c.cells[row].empty(); });
}

/// How many of these columns fit beside the labels; at least one.
std::size_t fitting(std::span<const Column> columns, int room) {
  std::size_t count = 0;
  for (const auto& column : columns) {
    room -= static_cast<int>(gap.size()) + width_of(column);
    if (room < 0 && count > 0) break;
    ++count;
  }
  return count;
}

}  // namespace

std::string table_text(const std::string& corner, const std::vector<std::string>& labels,
                       const std::vector<Column>& columns, int width) {
  for (const auto& column : columns) expects(column.cells.size() == labels.size());
  int label_width = display_width(corner);
  for (std::size_t row = 0; row < labels.size(); ++row) {
    if (!is_heading(columns, row)) label_width = std::max(label_width, display_width(labels[row]));
  }
  std::string text;
  std::span<const Column> left(columns);
  while (!left.empty()) {
    const auto block = left.first(fitting(left, width - label_width));
    left = left.subspan(block.size());
    if (!text.empty()) text += "\n";
    std::string head = padded_right(corner, label_width);
    for (const auto& column : block) {
      head += std::string(gap) + padded_right(column.head, width_of(column));
    }
    text += line_of(head);
    for (std::size_t row = 0; row < labels.size(); ++row) {
      std::string line = padded_right(labels[row], is_heading(columns, row) ? 0 : label_width);
      for (const auto& column : block) {
        line += std::string(gap) + padded_right(column.cells[row], width_of(column));
      }
      text += line_of(line);
    }
  }
  return text;
}

}  // namespace pitwright::report
