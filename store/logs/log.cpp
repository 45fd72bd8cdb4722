#include "logs/log.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "logs/clock.h"
#include "logs/fields.h"
#include "logs/long_table.h"
#include "logs/rows.h"
#include "logs/shape.h"
#include "logs/text_stream.h"
#include "logs/unit_words.h"
#include "logs/wide_table.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

/// Walks over the records of a file from its first data row on.
class RecordWalk {
 public:
  RecordWalk(TextStream& text, const Shape& shape)
      : text_(text), delimiter_(shape.delimiter), line_(shape.data_line) {
    text_.consume(shape.data_offset);
  }

  /// Makes text available; false at the end.
  bool more() { return !text_.window().empty() || text_.extend(); }
  std::string_view window() const { return text_.window(); }
  std::int64_t line() const { return line_; }

  /// The record the window starts with; a quoted cell that reaches past the window brings more in.
  std::string_view record() {
    auto length = record_length(text_.window(), delimiter_);
    const auto first_line = text_.window().find('\n') + 1;
    const bool quote_open = length == first_line &&
                            text_.window().substr(0, length).contains('"') &&
                            text_.window().size() < 2 * longest_quoted;
    if (quote_open && text_.extend()) length = record_length(text_.window(), delimiter_);
    return text_.window().substr(0, length);
  }

  void pass(std::size_t bytes, std::int64_t lines) {
    text_.consume(bytes);
    line_ += lines;
  }

 private:
  static constexpr std::size_t longest_quoted = 64 * 1024;
  TextStream& text_;
  char delimiter_;
  std::int64_t line_;
};

/// Reads all rows of a file into a table, one by one, the plain ones quickly.
template <typename Table>
class RowReader {
 public:
  RowReader(const Shape& shape, Encoding encoding, Clock& clock, Tally& tally, Table& table)
      : shape_(shape),
        encoding_(encoding),
        clock_(clock),
        tally_(tally),
        table_(table),
        splitter_(shape.delimiter) {}

  void read(RecordWalk& walk) {
    while (walk.more()) {
      const auto window = walk.window();
      const char* p = window.data();
      const char* const end = p + window.size();
      std::int64_t lines = 0;
      while (p < end) {
        const char* const past = table_.quick_row(p, end, clock_);
        if (past == nullptr) break;
        p = past;
        ++lines;
      }
      walk.pass(static_cast<std::size_t>(p - window.data()), lines);
      if (p < end) slow_row(walk);
    }
  }

 private:
  void slow_row(RecordWalk& walk) {
    auto record = walk.record();
    const auto first_line = record.find('\n') + 1;
    if (first_line < record.size() && hides_rows(record.substr(first_line))) {
      record = record.substr(0, first_line);
    }
    if (!trimmed(record).empty()) take(splitter_.split(record), walk.line());
    walk.pass(record.size(), std::ranges::count(record, '\n'));
  }

  /// Whether a line inside a quoted cell is a row by itself: then the quote was a broken byte.
  bool hides_rows(std::string_view lines) {
    while (!lines.empty()) {
      const auto line = lines.substr(0, lines.find('\n') + 1);
      const auto& cells = splitter_.split(line);
      const auto column = static_cast<std::size_t>(shape_.time.form.column);
      if (cells.size() >= shape_.least_cells && cells.size() <= shape_.most_cells &&
          clock_.could_read(cells[column])) {
        return true;
      }
      lines.remove_prefix(line.size());
    }
    return false;
  }

  bool right_length(const std::vector<std::string_view>& cells) const {
    if (cells.size() < shape_.least_cells) return false;
    return std::all_of(
        cells.begin() + static_cast<std::ptrdiff_t>(std::min(cells.size(), shape_.most_cells)),
        cells.end(), [](std::string_view cell) { return cell.empty(); });
  }

  void take(const std::vector<std::string_view>& cells, std::int64_t line) {
    tally_.row_seen();
    const auto& form = shape_.time.form;
    if (!right_length(cells)) {
      tally_.skip_row(line, 0,
                      fmt::format("{} {} where {} are expected", cells.size(),
                                  cells.size() == 1 ? "cell" : "cells", shape_.most_cells));
      return;
    }
    const auto time = cells[static_cast<std::size_t>(form.column)];
    const auto clock_cell = form.clock_column < 0
                                ? std::string_view{}
                                : cells[static_cast<std::size_t>(form.clock_column)];
    const auto ms = clock_.read(time, clock_cell);
    if (!ms) {
      const bool again = shape_.header_line > 0 &&
                         time == shape_.header.names[static_cast<std::size_t>(form.column)];
      tally_.skip_row(line, form.column + 1,
                      again ? "the header again" : to_utf8(clock_.reason(), encoding_));
      return;
    }
    table_.row({cells, line, *ms});
  }

  const Shape& shape_;
  Encoding encoding_;
  Clock& clock_;
  Tally& tally_;
  Table& table_;
  Splitter splitter_;
};

/// Settles the order of day and month by the whole file; false: no date shows it.
bool settle_order(const std::filesystem::path& path, Shape& shape) {
  auto text = TextStream::open(path);
  if (!text) return false;
  RecordWalk walk(*text, shape);
  Splitter splitter(shape.delimiter);
  const auto column = static_cast<std::size_t>(shape.time.form.column);
  OrderVotes votes;
  while (walk.more()) {
    const auto record = walk.record();
    const auto& cells = splitter.split(record);
    if (column < cells.size()) votes.count(cells[column]);
    walk.pass(record.size(), std::ranges::count(record, '\n'));
  }
  shape.time.form.order = votes.shown().value_or(DateOrder::day_first);
  return votes.shown().has_value();
}

void tell_time(const Clock& clock, const Shape& shape, const Hints& hints, Log& log) {
  auto& said = log.understood;
  const auto& form = shape.time.form;
  if (form.kind == TimeForm::Kind::date_time && form.order != DateOrder::year_first) {
    const auto cell = form.order == DateOrder::day_first ? "day first" : "month first";
    if (shape.time.numbers_ordered) said.push_back(fmt::format("dates: {}", cell));
  }
  if (clock.zone_used()) {
    said.push_back(hints.timezone.empty()
                       ? "zone: stamps have no offset and no timezone is told: taken as UTC (key "
                         "`timezone`)"
                       : fmt::format("zone: {}", hints.timezone));
  } else if (clock.offset_seen()) {
    said.emplace_back("zone: every stamp has its own offset");
  }
  if (clock.twice() > 0) {
    said.push_back(fmt::format(
        "clocks went back: {} stamps passed twice, told apart by the rows before", clock.twice()));
  }
  if (clock.stamps() == Stamps::elapsed) {
    said.emplace_back(
        form.kind == TimeForm::Kind::time_of_day
            ? "start: not told, times count from the midnight before the first row (key "
              "`zero`)"
            : "start: not told, times stay offsets (key `zero`)");
  }
  if (hints.offset.count() != 0.0) {
    said.push_back(fmt::format("offset: {} s added to every stamp", hints.offset.count()));
  }
}

/// Gives channels without a unit the one told by the person.
void settle_units(const Hints& hints, Log& log) {
  ChannelUnit told = ChannelUnit::unknown;
  if (hints.unit) told = unit_of_word(*hints.unit).value_or(ChannelUnit::unknown);
  std::vector<std::string> parts;
  for (auto& channel : log.channels) {
    if (channel.unit == ChannelUnit::unknown && !names_no_temperature(channel.name)) {
      channel.unit = told;
    }
  }
  for (const auto unit : {ChannelUnit::fahrenheit, ChannelUnit::celsius, ChannelUnit::kelvin,
                          ChannelUnit::percent, ChannelUnit::kmh, ChannelUnit::mph,
                          ChannelUnit::mps, ChannelUnit::other, ChannelUnit::unknown}) {
    for (const bool from_file : {true, false}) {
      const auto n = std::ranges::count_if(log.channels, [&](const LogChannel& channel) {
        return channel.unit == unit && channel.unit_from_file == from_file;
      });
      if (n == 0) continue;
      parts.push_back(fmt::format("{} {}{}", n, unit_name(unit),
                                  unit == ChannelUnit::unknown ? ""
                                  : from_file                  ? " by the file"
                                                               : " by `unit`"));
    }
  }
  std::string sentence = "units: ";
  for (std::size_t i = 0; i < parts.size(); ++i) sentence += (i > 0 ? ", " : "") + parts[i];
  log.understood.push_back(sentence);
}

bool has_a_reading(const Log& log) {
  return std::ranges::any_of(log.channels, [](const LogChannel& channel) {
    return std::ranges::any_of(channel.values, [](double value) { return !std::isnan(value); });
  });
}

template <typename Table>
void read_table(TextStream& text, const Shape& shape, Clock& clock, Tally& tally, Table table,
                Log& log) {
  RecordWalk walk(text, shape);
  RowReader<Table>(shape, text.encoding().encoding, clock, tally, table).read(walk);
  table.finish(log);
}

/// The first words of what was understood: how bytes become text.
std::string text_sentence(const TextStream& text) {
  return fmt::format("text: {}{}", encoding_name(text.encoding()),
                     text.lone_cr() ? ", lines end with CR" : "");
}

std::unexpected<Error> nothing_usable(const Log& log) {
  if (log.skipped.empty()) {
    return fail(ErrorKind::bad_input, "{}: nothing usable: in its {} rows every reading is missing",
                log.path.string(), log.rows);
  }
  const auto& first = log.skipped.front();
  return fail(ErrorKind::bad_input,
              "{}: nothing usable in its {} rows; the first trouble is on line {}, column {}: {}",
              log.path.string(), log.rows, first.line, first.column, first.reason);
}

}  // namespace

Result<Log> read_log(const std::filesystem::path& path, const Hints& hints) {
  auto text = TextStream::open(path);
  if (!text) return std::unexpected(text.error());
  const auto named = [&path](const Error& error) {
    return fail(error.kind, "{}: {}", path.string(), error.what);
  };
  const auto encoding = text->encoding().encoding;
  auto shape = find_shape(text->window(), encoding, hints);
  if (!shape) return named(shape.error());
  if (shape->time.order_open && !settle_order(path, *shape)) {
    return fail(
        ErrorKind::bad_input,
        "{}: line {}: its dates may be read two ways; say `date = \"day-first\"` or `date = "
        "\"month-first\"` in burn.toml",
        path.string(), shape->data_line);
  }
  auto clock = Clock::make(shape->time.form, hints, shape->decimal);
  if (!clock) return named(clock.error());

  Log log;
  log.path = path;
  log.stamps = clock->stamps();
  log.understood.push_back(text_sentence(*text));
  std::ranges::copy(told(*shape), std::back_inserter(log.understood));
  Tally tally(log);
  if (shape->long_layout) {
    read_table(*text, *shape, *clock, tally, LongTable(*shape, encoding, tally), log);
  } else {
    const auto rows = static_cast<double>(text->file_size()) / shape->bytes_a_row * 1.05 + 16.0;
    read_table(*text, *shape, *clock, tally,
               WideTable(*shape, encoding, tally, static_cast<std::size_t>(rows)), log);
  }
  if (text->failed()) {
    return fail(ErrorKind::bad_input, "{}: could not be read to its end", path.string());
  }
  if (!has_a_reading(log)) return nothing_usable(log);
  tell_time(*clock, *shape, hints, log);
  settle_units(hints, log);
  return log;
}

}  // namespace pitwright::logs
