#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "logs/columns.h"
#include "logs/header.h"
#include "logs/time_column.h"

namespace pitwright::logs {

/// Where the readings of a long table stand: one reading a row. 0-based columns.
struct LongLayout {
  std::size_t name = 0;
  std::size_t value = 0;
  std::optional<std::size_t> unit;
};

/// Tells a long table (time, name, value) from a wide one: a column of names called channel, probe,
/// spot ... beside one column of numbers; or, where no name says so, one column of words beside one
/// of numbers whose stamps come again under other words. nullopt: the table is wide.
std::optional<LongLayout> find_long_layout(const Sample& sample,
                                           const std::vector<ColumnLook>& looks,
                                           const Header& header, const TimeForm& time);

/// Columns of a wide table that hold readings; the others hold text, times or nothing.
struct WideLayout {
  std::vector<std::size_t> channels;
  std::vector<std::size_t> ignored;
};
WideLayout find_wide_layout(const std::vector<ColumnLook>& looks, const Header& header,
                            const TimeForm& time);

}  // namespace pitwright::logs
