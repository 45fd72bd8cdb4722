#include "logs/time_column.h"

#include <algorithm>
#include <optional>

#include <fmt/ranges.h>

#include "logs/fields.h"
#include "logs/stamps.h"
#include "logs/unit_words.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

using Kind = TimeForm::Kind;
constexpr std::int64_t day_ms = 86'400'000;
/// From here on a number of any unit since 1970 is a moment of this age: 1e8 s is 1973.
constexpr double least_epoch = 1e8;

/// Unit of a number since 1970 by its size: each range holds the years 1973 to 5138.
double epoch_unit_ms(double value) {
  if (value < 1e11) return 1e3;
  if (value < 1e14) return 1.0;
  return value < 1e17 ? 1e-3 : 1e-6;
}

/// The first cell of the column that is a clock, and all that the sample's clocks show.
struct ClockLook {
  bool meridiem = false;
  bool past_midnight = false;  ///< 24 h or more
  std::int64_t first_ms = -1;
};

ClockLook look_at_clocks(const Sample& sample, std::size_t first_data, std::size_t column) {
  ClockLook look;
  for (std::size_t i = first_data; i < sample.records.size(); ++i) {
    const auto& cells = sample.records[i].cells;
    Stamp stamp;
    if (column >= cells.size() || !parse_stamp(cells[column], DateOrder::day_first, stamp))
      continue;
    look.meridiem = look.meridiem || stamp.meridiem;
    look.past_midnight = look.past_midnight || stamp.clock_ms >= day_ms;
    if (look.first_ms < 0) look.first_ms = stamp.clock_ms;
  }
  return look;
}

/// Tells h:mm:ss since a start from a time of day: 24 h or more, a name that says so, or a first
/// row within a minute of 0:00 mean a start. (Without a date both give the same times since 0:00.)
void settle_clock(const Sample& sample, const Header& header, TimeForm& form) {
  const auto column = static_cast<std::size_t>(form.column);
  const auto look = look_at_clocks(sample, header.first_data, column);
  const auto name = lowered(header.names[column] + " " + header.unit_words[column]);
  const bool pattern = name.contains("h:mm") || name.contains("mm:ss");
  const bool elapsed = look.past_midnight || names_elapsed(header.names[column]) || pattern ||
                       look.first_ms < 60'000;
  form.kind = elapsed && !look.meridiem ? Kind::elapsed_clock : Kind::time_of_day;
  form.minutes_first = name.contains("mm:ss") && !name.contains("h:mm");
}

void settle_order(const Sample& sample, const Header& header, const Hints& hints,
                  TimeColumn& time) {
  OrderVotes votes;
  for (std::size_t i = header.first_data; i < sample.records.size(); ++i) {
    const auto& cells = sample.records[i].cells;
    const auto column = static_cast<std::size_t>(time.form.column);
    if (column < cells.size()) votes.count(cells[column]);
  }
  // A few broken dates in a file of year-first ones ask nothing.
  time.numbers_ordered = votes.year_last * 2 > votes.dates;
  const auto otherwise = time.numbers_ordered ? DateOrder::day_first : DateOrder::year_first;
  time.form.order = hints.date ? *hints.date : votes.shown().value_or(otherwise);
  if (!time.numbers_ordered && !hints.date) time.form.order = DateOrder::year_first;
  time.order_open = time.numbers_ordered && votes.open > 0 && !votes.shown() && !hints.date;
}

void settle_number(const ColumnLook& look, const Header& header, TimeColumn& time) {
  const auto column = static_cast<std::size_t>(time.form.column);
  const auto& name = header.names[column];
  if (look.greatest >= least_epoch && !names_elapsed(name)) {
    time.form.kind = Kind::epoch;
    time.form.unit_ms = epoch_unit_ms(look.greatest);
    return;
  }
  time.form.kind = Kind::elapsed;
  auto unit = time_unit_ms(header.unit_words[column]);
  if (!unit) unit = time_unit_ms(name);
  time.unit_assumed = !unit;
  time.form.unit_ms = unit.value_or(1000.0);
}

std::optional<std::size_t> column_named(const Header& header, std::string_view wanted) {
  const auto same = [&](const std::string& name) { return lowered(name) == lowered(wanted); };
  const auto found = std::ranges::find_if(header.names, same);
  if (found == header.names.end()) return std::nullopt;
  return static_cast<std::size_t>(found - header.names.begin());
}

template <typename Test>
std::optional<std::size_t> first_column(const std::vector<ColumnLook>& looks, Test test) {
  for (std::size_t i = 0; i < looks.size(); ++i) {
    if (test(looks[i], i)) return i;
  }
  return std::nullopt;
}

/// The column of the time by what its cells are.
std::optional<std::size_t> by_content(const std::vector<ColumnLook>& looks, const Header& header) {
  using Look = ColumnLook;
  const auto dated = first_column(looks, [](const Look& l, auto) { return l.mostly(l.dated); });
  if (dated) return dated;
  const auto dates = first_column(looks, [](const Look& l, auto) { return l.mostly(l.dates); });
  if (dates) return dates;
  const auto epoch = first_column(looks, [&](const Look& l, std::size_t i) {
    return l.mostly(l.numbers) && l.least >= least_epoch && (names_time(header.names[i]) || i == 0);
  });
  if (epoch) return epoch;
  const auto clocks = first_column(looks, [](const Look& l, auto) { return l.mostly(l.clocks); });
  if (clocks) return clocks;
  const auto named = first_column(looks, [&](const Look& l, std::size_t i) {
    return l.mostly(l.numbers) && names_time(header.names[i]);
  });
  if (named) return named;
  if (!header.names_at && !looks.empty() && looks[0].mostly(looks[0].numbers) && looks[0].rising &&
      looks[0].greatest > looks[0].least) {
    return 0;
  }
  return std::nullopt;
}

Result<TimeColumn> settled(const Sample& sample, const std::vector<ColumnLook>& looks,
                           const Header& header, const Hints& hints, TimeColumn time) {
  const auto& look = looks[static_cast<std::size_t>(time.form.column)];
  const auto& name = header.names[static_cast<std::size_t>(time.form.column)];
  if (look.mostly(look.dated + look.dates)) {
    time.form.kind = Kind::date_time;
    settle_order(sample, header, hints, time);
  } else if (look.mostly(look.clocks)) {
    settle_clock(sample, header, time.form);
  } else if (look.mostly(look.numbers)) {
    settle_number(look, header, time);
  } else {
    return fail(ErrorKind::bad_input, "column '{}' holds no times", name);
  }
  return time;
}

}  // namespace

void OrderVotes::count(std::string_view cell) {
  Stamp stamp;
  const bool by_day = parse_stamp(cell, DateOrder::day_first, stamp) && stamp.has_date;
  bool last = by_day && stamp.year_last;
  const bool matters = !by_day || stamp.order_matters;
  const bool by_month = parse_stamp(cell, DateOrder::month_first, stamp) && stamp.has_date;
  last = last || (by_month && stamp.year_last);
  if (!by_day && !by_month) return;
  ++dates;
  year_last += last;
  day_first += by_day && !by_month;
  month_first += by_month && !by_day;
  open += by_day && by_month && matters;
}

std::optional<DateOrder> OrderVotes::shown() const {
  if (day_first == 0 && month_first == 0) return std::nullopt;
  return day_first >= month_first ? DateOrder::day_first : DateOrder::month_first;
}

Result<TimeColumn> find_time(const Sample& sample, const std::vector<ColumnLook>& looks,
                             const Header& header, const Hints& hints) {
  TimeColumn time;
  const auto columns = fmt::format("{}", fmt::join(header.names, ", "));
  std::vector<std::size_t> told;
  for (const auto& name : hints.time_columns) {
    const auto column = column_named(header, name);
    if (!column || *column >= looks.size()) {
      return fail(ErrorKind::bad_input, "there is no column '{}' (key `time`); its columns are: {}",
                  name, columns);
    }
    told.push_back(*column);
  }
  if (told.size() >= 2) {
    if (looks[told[1]].dates > 0) std::swap(told[0], told[1]);
    time.form.column = static_cast<int>(told[0]);
    time.form.clock_column = static_cast<int>(told[1]);
    return settled(sample, looks, header, hints, time);
  }
  const auto found = told.empty() ? by_content(looks, header) : told[0];
  if (!found) {
    return fail(ErrorKind::bad_input,
                "no column holds the time; name it with `time` in burn.toml; its columns are: {}",
                columns);
  }
  time.form.column = static_cast<int>(*found);
  if (looks[*found].mostly(looks[*found].dates)) {
    const auto clock =
        first_column(looks, [](const ColumnLook& l, auto) { return l.mostly(l.clocks); });
    if (clock) time.form.clock_column = static_cast<int>(*clock);
  }
  return settled(sample, looks, header, hints, time);
}

}  // namespace pitwright::logs
