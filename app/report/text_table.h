#pragma once

#include <string>
#include <vector>

namespace pitwright::report {

/// One column of a table for the terminal, as many cells as the table has rows.
struct Column {
  std::string head;
  std::vector<std::string> cells;
};

/// A table with a label before each row, at most `width` columns wide: what does not fit goes into
/// further blocks under it, the labels repeated. A row without cells is a heading, or a blank line
/// where its label is empty too. `corner` stands over the labels.
/// Shapes: every column has labels.size() cells.
std::string table_text(const std::string& corner, const std::vector<std::string>& labels,
                       const std::vector<Column>& columns, int width);

}  // namespace pitwright::report
