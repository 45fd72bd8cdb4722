#pragma once

#include <string>
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

/// Which of day and month comes first, as far as one cell shows it: `neither` where both readings
/// are dates, `same` where the order makes no difference (or the cell is no date).
enum class OrderShown { neither, same, day_first, month_first };
OrderShown order_shown(std::string_view cell);

}  // namespace pitwright::logs
