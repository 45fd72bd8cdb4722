#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "logs/stamp_column.h"
#include "units/temperature.h"

namespace pitwright::logs {

enum class DateOrder { day_first, month_first, year_first };

/// What a person told us of a file. Everything left empty is worked out from the file itself or,
/// where it cannot be, asked about by an error that names the key to set.
struct Hints {
  std::optional<std::string> unit;  ///< "F", "C" or "K" of its temperatures
  std::string timezone;             ///< IANA name for stamps without an offset; empty: not told
  Seconds offset{0};                ///< added to every stamp: how late the logger's clock runs
  std::optional<DateOrder> date;
  std::optional<char> decimal;            ///< '.' or ','
  std::optional<char> delimiter;          ///< ',' ';' '\t' or ' '
  std::vector<std::string> time_columns;  ///< names; two where date and time are split
  std::optional<Instant> zero;            ///< instant of elapsed 0
};

/// Unit of one channel as logged.
enum class ChannelUnit { celsius, fahrenheit, kelvin, percent, kmh, mph, mps, other, unknown };

/// One column of readings (wide table) or one name (long table).
struct LogChannel {
  std::string name;
  ChannelUnit unit = ChannelUnit::unknown;
  bool unit_from_file = false;  ///< told by header, units row or cell; else by hint or unknown
  StampColumn ms;  ///< stamps [ms], ascending strictly; see Log::stamps; shared in a wide table
  std::vector<double> values;  ///< as logged, in `unit`; NaN: said "missing", or could not be used
  std::int64_t missing = 0;    ///< cells that said "missing"
};

/// Which kind of time the stamps of a log are.
enum class Stamps {
  instants,  ///< ms since 1970-01-01T00:00Z
  elapsed    ///< ms since the logger started
};

/// A row or cell that could not be used: it cost that row or cell, nothing else.
struct Skipped {
  std::int64_t line;   ///< 1-based, in the file
  int column;          ///< 1-based cell; 0: the whole row
  std::string reason;  ///< one sentence
};

/// A log as it was understood, before anything uses it.
struct Log {
  std::filesystem::path path;
  Stamps stamps = Stamps::instants;
  std::vector<LogChannel> channels;
  std::int64_t rows = 0;           ///< data rows seen
  std::int64_t rows_skipped = 0;   ///< data rows that gave nothing
  std::vector<Skipped> skipped;    ///< the first 100
  std::int64_t skipped_total = 0;  ///< rows and cells
  std::int64_t duplicates = 0;     ///< stamps seen twice in one channel (the later value wins)
  std::int64_t out_of_order = 0;   ///< rows whose stamp was below an earlier one; put in order
  double interval_s = 0.0;         ///< median step between rows
  std::vector<std::string>
      understood;  ///< for people: encoding, delimiter, layout, time format, zone ...
};

/// Reads a log of any shape: see docs/reference/logs.md.
/// Fails: not_found (no such file), bad_input (nothing usable, or a question only a person can
/// answer;
///        the sentence names the file and the burn.toml key that answers it).
Result<Log> read_log(const std::filesystem::path& path, const Hints& hints);

}  // namespace pitwright::logs
