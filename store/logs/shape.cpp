#include "logs/shape.h"

#include <algorithm>
#include <cstdlib>
#include <map>

#include <fmt/ranges.h>

#include "logs/unit_words.h"

namespace pitwright::logs {
namespace {

/// Fewest cells of a row that still is one: rows shorter than usual are common in some files
/// (blanks at the end left out), in others they are broken.
std::size_t least_cells(const Sample& sample, const Shape& shape) {
  std::map<std::size_t, std::size_t> lengths;
  const auto& records = sample.records;
  const auto from = std::max(shape.header.first_data, records.size() / 2);
  for (std::size_t i = from; i < records.size(); ++i) lengths[records[i].cells.size()] += 1;
  const auto rows = records.size() - from;
  const auto needed =
      static_cast<std::size_t>(std::max(shape.time.form.column, shape.time.form.clock_column)) + 2;
  auto least = sample.cells;
  for (const auto& [length, count] : lengths) {
    if (length >= needed && count * 10 >= rows && count > 1) least = std::min(least, length);
  }
  return least;
}

double bytes_a_row(const Sample& sample, std::size_t first) {
  const auto& last = sample.records.back();
  const auto bytes = last.offset + last.text.size() - sample.records[first].offset;
  return static_cast<double>(bytes) / static_cast<double>(sample.records.size() - first);
}

std::string delimiter_name(char delimiter) {
  switch (delimiter) {
    case '\t':
      return "tabs";
    case ';':
      return "semicolons";
    case ' ':
      return "blanks";
    default:
      return "commas";
  }
}

std::string time_sentence(const Shape& shape) {
  const auto& form = shape.time.form;
  const auto& names = shape.header.names;
  std::string where =
      fmt::format("time: column '{}'", names[static_cast<std::size_t>(form.column)]);
  if (form.clock_column >= 0) {
    where += fmt::format(" and '{}'", names[static_cast<std::size_t>(form.clock_column)]);
  }
  const auto unit = form.unit_ms >= 8.64e7  ? "days"
                    : form.unit_ms >= 3.6e6 ? "hours"
                    : form.unit_ms >= 6e4   ? "minutes"
                    : form.unit_ms >= 1e3   ? "seconds"
                    : form.unit_ms >= 1.0   ? "milliseconds"
                    : form.unit_ms >= 1e-3  ? "microseconds"
                                            : "nanoseconds";
  using Kind = TimeForm::Kind;
  switch (form.kind) {
    case Kind::date_time:
      return where + ", date and time of day";
    case Kind::time_of_day:
      return where + ", time of day without date";
    case Kind::elapsed_clock:
      return where + (form.minutes_first ? ", elapsed mm:ss" : ", elapsed h:mm:ss");
    case Kind::epoch:
      return fmt::format("{}, {} since 1970", where, unit);
    case Kind::elapsed:
      break;
  }
  return fmt::format("{}, elapsed {}{}", where, unit,
                     shape.time.unit_assumed ? " (no unit told: seconds assumed)" : "");
}

}  // namespace

Result<Shape> find_shape(std::string_view text, Encoding encoding, const Hints& hints) {
  const auto sample = take_sample(text, hints);
  if (!sample) {
    return fail(
        ErrorKind::bad_input,
        "not a table: no row has two cells or more (`delimiter` in burn.toml tells what parts "
        "them)");
  }
  const auto looks = look_at_columns(*sample);
  auto header = find_header(*sample, looks, encoding);
  if (!header) {
    return fail(ErrorKind::bad_input, "nothing usable: no row with a time and a number was found");
  }
  Shape shape;
  shape.delimiter = sample->delimiter;
  shape.decimal = sample->decimal;
  shape.header = std::move(*header);
  const auto& h = shape.header;
  shape.data_offset = sample->records[h.first_data].offset;
  shape.data_line = sample->records[h.first_data].line;
  if (h.names_at) shape.header_line = sample->records[*h.names_at].line;
  if (h.units_at) shape.units_line = sample->records[*h.units_at].line;
  auto time = find_time(*sample, looks, h, hints);
  if (!time) return std::unexpected(time.error());
  shape.time = *time;
  shape.least_cells = least_cells(*sample, shape);
  shape.most_cells = std::max(sample->cells, h.names.size());
  shape.bytes_a_row = bytes_a_row(*sample, h.first_data);
  shape.long_layout = find_long_layout(*sample, looks, h, shape.time.form);
  shape.wide = find_wide_layout(looks, h, shape.time.form);
  if (!shape.long_layout && shape.wide.channels.empty()) {
    return fail(ErrorKind::bad_input, "no column beside the time holds numbers");
  }
  return shape;
}

std::vector<std::string> told(const Shape& shape) {
  const auto& names = shape.header.names;
  std::vector<std::string> out;
  out.push_back(fmt::format("cells: parted by {}, decimal {}", delimiter_name(shape.delimiter),
                            shape.decimal == ',' ? "comma" : "point"));
  std::string header = shape.header_line > 0 ? fmt::format("header on line {}", shape.header_line)
                       : shape.header.names_do_not_fit
                           ? "names of the header do not fit the cells: channels are numbered"
                           : "no header: channels are numbered";
  if (shape.units_line > 0) header += fmt::format(", units on line {}", shape.units_line);
  if (shape.long_layout) {
    out.push_back(fmt::format("table: long (names in '{}', values in '{}'), {}",
                              names[shape.long_layout->name], names[shape.long_layout->value],
                              header));
  } else {
    out.push_back(fmt::format("table: wide, {}", header));
  }
  out.push_back(time_sentence(shape));
  std::vector<std::string> ignored;
  if (!shape.long_layout) {
    for (const auto i : shape.wide.ignored) ignored.push_back("'" + names[i] + "'");
  }
  if (!ignored.empty()) {
    out.push_back(fmt::format("ignored: {} (no readings)", fmt::join(ignored, ", ")));
  }
  return out;
}

}  // namespace pitwright::logs
