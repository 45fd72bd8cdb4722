#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/words.h"

namespace pitwright::book {

/// One figure of a piece's record: a line of the page and a row of the CSV.
struct Figure {
  std::string what;   ///< "40 to 140 °F"
  std::string words;  ///< for people, without `what`
  std::optional<double> value;
  std::string unit;                     ///< "min", "F", "C", "log"; empty where there is no value
  std::optional<double> limit, margin;  ///< margin: limit less value for times; below 0 is over
  std::string verdict;                  ///< empty where no rule is held against it
  const safety::Rule* rule = nullptr;
};

/// All figures of a piece, in the order of the page.
std::vector<Figure> figures_of(const Book& book, const PiecePage& page);

}  // namespace pitwright::book
