#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "burns/clocks.h"
#include "logs/log.h"
#include "units/temperature.h"

namespace pitwright::understood {

/// Who said what a channel's unit is.
enum class UnitSource {
  file,   ///< a header, a units row, a cell
  told,   ///< `unit` of its [[log]], or --unit
  burn,   ///< nobody; the burn's unit was taken
  nobody  ///< nobody, and nothing was taken
};

std::string_view name_of(UnitSource source);

struct ChannelView {
  std::string name;
  std::string unit;  ///< "F", "C", "K", "%", "km/h", "mph", "m/s", "other", "unknown"
  UnitSource unit_source = UnitSource::nobody;
  std::int64_t readings = 0;
  std::int64_t missing = 0;
};

/// One log, without its readings.
struct LogView {
  std::string file;
  bool elapsed = false;     ///< its stamps count from its own start
  std::string first, last;  ///< on the burn's clock; on the log's own where there is none
  std::int64_t rows = 0, rows_skipped = 0, skipped_total = 0, duplicates = 0, out_of_order = 0;
  double interval_s = 0.0;
  std::vector<logs::Skipped> skipped;
  std::vector<std::string> understood;
  std::vector<ChannelView> channels;
  std::optional<burns::LogClock> clock;  ///< empty for bare logs, and where clocks do not agree
};

/// What `pitwright logs` shows.
struct View {
  std::string burn;           ///< its title, or the first log's name
  std::optional<Scale> unit;  ///< of the burn; empty for bare logs
  std::string timezone;       ///< of the times shown; empty: UTC
  std::vector<LogView> logs;
  std::vector<std::string> assumed;
  std::optional<Error> mistake;  ///< why the burn cannot be opened although its logs can be read
};

/// What is understood of a burn: every log, the clocks, what the burn assumed. A burn whose logs
/// can be read but that cannot be put together is shown as far as it goes, with its mistake.
/// Fails: like read_burn and read_log.
Result<View> of_burn(const std::filesystem::path& path);

/// The same of bare log files. Fails: like read_log.
Result<View> of_files(std::span<const std::filesystem::path> paths, const logs::Hints& hints);

/// For people, lines of at most `width` columns.
std::string text_of(const View& view, int width = 100);

/// To docs/reference/logs.schema.json.
std::string json_of(const View& view);

}  // namespace pitwright::understood
