#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "logs/clock.h"
#include "logs/columns.h"
#include "logs/header.h"

namespace pitwright::logs {

/// The column (or two) that holds the time of a row, and how it is written.
struct TimeColumn {
  TimeForm form;
  bool order_open = false;       ///< the sample does not show which of day and month comes first
  bool numbers_ordered = false;  ///< dates are numbers with the year last: form.order was settled
  bool unit_assumed = false;     ///< elapsed numbers without a unit: seconds
};

/// Finds the column of the time. Preferred in this order: date and time in one cell; split in two;
/// an epoch number; a time of day or h:mm:ss; a number whose column is named as a time; in a table
/// without names, a first column of numbers that never falls.
/// Fails: bad_input naming the columns there are, where none (or not the one hinted at) is a time.
Result<TimeColumn> find_time(const Sample& sample, const std::vector<ColumnLook>& looks,
                             const Header& header, const Hints& hints);

/// Dates with the year at the end, and which order of day and month they show: a first number above
/// 12 is a day, a second above 12 too.
struct OrderVotes {
  std::int64_t dates = 0;      ///< all dates seen
  std::int64_t year_last = 0;  ///< of these, with the year at the end
  std::int64_t day_first = 0;
  std::int64_t month_first = 0;
  std::int64_t open = 0;  ///< that may be read two ways

  void count(std::string_view cell);
  /// The order that more dates show; nullopt: none shows one.
  std::optional<DateOrder> shown() const;
};

}  // namespace pitwright::logs
