#pragma once

#include <cstddef>
#include <set>
#include <string>
#include <vector>

#include "logs/sample.h"

namespace pitwright::logs {

/// What the cells of one column are, counted over the body of a sample.
struct ColumnLook {
  std::size_t numbers = 0;
  std::size_t missing = 0;
  std::size_t dated = 0;   ///< date and time of day
  std::size_t dates = 0;   ///< date alone
  std::size_t clocks = 0;  ///< time of day or h:mm:ss alone
  std::size_t texts = 0;
  bool rising = true;  ///< no number below the one before
  double least = 0.0;
  double greatest = 0.0;
  std::set<std::string> words;       ///< the different cells, up to 65 of them
  std::set<std::string> text_words;  ///< those that are text

  std::size_t told() const { return numbers + dated + dates + clocks + texts; }
  bool mostly(std::size_t kind) const { return kind > 0 && kind * 2 >= told(); }
};

std::vector<ColumnLook> look_at_columns(const Sample& sample);

}  // namespace pitwright::logs
