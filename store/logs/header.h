#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "logs/columns.h"
#include "logs/encoding.h"
#include "logs/sample.h"

namespace pitwright::logs {

/// The rows above the data.
struct Header {
  std::size_t first_data = 0;           ///< index of the first data record in the sample
  std::optional<std::size_t> names_at;  ///< record of the names; none: channels are "1", "2", ...
  std::optional<std::size_t> units_at;  ///< record of the units
  bool names_do_not_fit = false;        ///< a header whose names cannot be told apart
  std::vector<std::string> names;       ///< one a cell, all different, UTF-8
  std::vector<ChannelUnit> units;       ///< told by units row or name, else unknown
  std::vector<std::string> unit_words;  ///< the units row as written; empty strings without one
};

/// Finds names and units above the first data row. nullopt: no row of the sample is data.
std::optional<Header> find_header(const Sample& sample, const std::vector<ColumnLook>& looks,
                                  Encoding encoding);

}  // namespace pitwright::logs
