#include "logs/log.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "logs/clock.h"
#include "logs/fields.h"
#include "logs/long_table.h"
#include "logs/row_reader.h"
#include "logs/rows.h"
#include "logs/shape.h"
#include "logs/text_stream.h"
#include "logs/unit_words.h"
#include "logs/wide_table.h"

namespace pitwright::logs {
namespace {

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
    read_table(*text, *shape, *clock, tally,
               LongTable(*shape, *shape->long_layout, encoding, tally), log);
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
