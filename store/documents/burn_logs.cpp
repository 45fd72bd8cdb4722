#include "documents/burn_logs.h"

#include <algorithm>

#include <fmt/format.h>

#include "documents/nearest.h"

namespace pitwright::documents {
namespace {

const std::vector<std::string> unit_names{"F", "C", "K"};
const std::vector<std::string> date_names{"day-first", "month-first", "year-first"};
const std::vector<std::string> decimal_names{".", ","};
const std::vector<std::string> delimiter_names{",", ";", "tab", "blank"};

/// "A2 ~ grate.csv:A1": a channel of this log, a channel of another.
void read_match(TableReader& keys, ClockSpec& clock) {
  const auto text = keys.text("match");
  if (!text) return;
  const auto wave = text->find('~');
  const auto trimmed = [](std::string_view part) {
    const auto from = part.find_first_not_of(" \t");
    if (from == part.npos) return std::string();
    return std::string(part.substr(from, part.find_last_not_of(" \t") - from + 1));
  };
  if (wave != text->npos) {
    clock.match_own = trimmed(std::string_view(*text).substr(0, wave));
    clock.match_other = trimmed(std::string_view(*text).substr(wave + 1));
  }
  if (clock.match_own.empty() || clock.match_other.empty()) {
    keys.wrong("match",
               "'match' expects a channel of this log, '~', and a channel of another log, such as "
               "\"A2 ~ grate.csv:A1\"");
  }
}

void not_negative(TableReader& keys, std::string_view key, std::optional<Seconds> value) {
  if (value && value->count() < 0.0) {
    keys.wrong(key, fmt::format("'{}' is a size; it cannot be negative", key));
  }
}

ClockSpec clock_of(TableReader& keys) {
  ClockSpec clock;
  clock.offset = keys.elapsed("offset");
  clock.offset_uncertainty = keys.elapsed("offset_uncertainty");
  clock.mark = keys.time("mark");
  clock.mark_uncertainty = keys.elapsed("mark_uncertainty");
  read_match(keys, clock);
  not_negative(keys, "offset_uncertainty", clock.offset_uncertainty);
  not_negative(keys, "mark_uncertainty", clock.mark_uncertainty);
  const bool matched = !clock.match_own.empty();
  if (clock.offset && (clock.mark || matched)) {
    keys.wrong("offset", "give one of 'offset', 'mark' and 'match'; each sets the clock by itself");
  } else if (clock.mark && matched) {
    keys.wrong("match", "give one of 'offset', 'mark' and 'match'; each sets the clock by itself");
  }
  if (clock.offset_uncertainty && !clock.offset) {
    keys.wrong("offset_uncertainty", "'offset_uncertainty' goes with 'offset', which is missing");
  }
  if (clock.mark_uncertainty && !clock.mark) {
    keys.wrong("mark_uncertainty", "'mark_uncertainty' goes with 'mark', which is missing");
  }
  return clock;
}

void read_zone(TableReader& keys, logs::Hints& hints) {
  const auto zone = keys.text("timezone");
  if (!zone) return;
  if (!is_known_zone(*zone)) {
    keys.wrong("timezone",
               fmt::format("unknown time zone '{}'{}", *zone, suggestion(*zone, zone_names())));
  }
  hints.timezone = *zone;
}

void read_zero(TableReader& keys, logs::Hints& hints) {
  const auto zero = keys.time("zero");
  if (!zero) return;
  if (const auto* instant = std::get_if<Instant>(&zero->of)) {
    hints.zero = *instant;
  } else if (const auto* local = std::get_if<LocalTime>(&zero->of)) {
    const auto found = instant_of(*local, hints.timezone);
    if (found) {
      hints.zero = *found;
    } else {
      keys.wrong("zero", fmt::format("'zero': {}", found.error().what));
    }
  } else {
    keys.wrong("zero", "'zero' expects a date and time such as 2026-05-02T12:30:00");
  }
}

LogSpec log_of(Reading& reading, const Table& table, const BurnDocument& document) {
  TableReader keys(reading, table, "[[log]]");
  LogSpec log;
  log.place = table.place;
  log.hints.timezone = document.timezone;
  keys.require("file", "file = \"grate.csv\"");
  log.file = keys.text("file").value_or("");
  if (const auto unit = keys.word("unit", unit_names)) log.hints.unit = unit_names[*unit];
  read_zone(keys, log.hints);
  if (const auto order = keys.word("date", date_names)) {
    log.hints.date = static_cast<logs::DateOrder>(*order);
  }
  if (const auto point = keys.word("decimal", decimal_names)) {
    log.hints.decimal = decimal_names[*point].front();
  }
  if (const auto mark = keys.word("delimiter", delimiter_names)) {
    constexpr char marks[] = {',', ';', '\t', ' '};
    log.hints.delimiter = marks[*mark];
  }
  log.hints.time_columns = keys.texts("time").value_or(std::vector<std::string>{});
  read_zero(keys, log.hints);
  log.clock = clock_of(keys);
  keys.finish();
  return log;
}

}  // namespace

void read_log_specs(Reading& reading, TableReader& root, BurnDocument& document) {
  const auto files = root.texts("logs");
  const auto tables = root.tables("log");
  if (!files && tables.empty()) root.require("logs", "logs = [\"grate.csv\"]");
  for (const auto& file : files.value_or(std::vector<std::string>{})) {
    if (std::ranges::find(document.logs, file, &LogSpec::file) != document.logs.end()) {
      root.wrong("logs", fmt::format("'{}' is listed twice", file));
    }
    LogSpec log;
    log.file = file;
    log.place = root.place("logs");
    log.hints.timezone = document.timezone;
    document.logs.push_back(std::move(log));
  }
  std::vector<std::string> told;
  for (const auto* table : tables) {
    auto log = log_of(reading, *table, document);
    if (std::ranges::find(told, log.file) != told.end()) {
      reading.complain(log.place, fmt::format("two tables [[log]] tell of '{}'", log.file));
    }
    told.push_back(log.file);
    const auto listed = std::ranges::find(document.logs, log.file, &LogSpec::file);
    if (listed != document.logs.end()) {
      *listed = std::move(log);
    } else if (files) {
      reading.complain(log.place, fmt::format("[[log]] tells of '{}', which 'logs' does not list{}",
                                              log.file, suggestion(log.file, *files)));
    } else {
      document.logs.push_back(std::move(log));
    }
  }
}

}  // namespace pitwright::documents
