#pragma once

#include <chrono>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "documents/rollcall_document.h"
#include "documents/written_time.h"
#include "logs/log.h"
#include "pit/burn.h"

namespace pitwright::documents {

/// What a document says of one logger's clock. At most one of offset, mark and match is given.
struct ClockSpec {
  std::optional<Seconds> offset;  ///< added to every stamp
  std::optional<Seconds> offset_uncertainty;
  std::optional<WrittenTime> mark;  ///< what this logger showed at the common mark
  std::optional<Seconds> mark_uncertainty;
  std::string match_own, match_other;  ///< channels that saw the same swings
};

/// One log of the burn and what its people told of it.
struct LogSpec {
  std::string file;  ///< as written, relative to the document
  Place place;
  logs::Hints hints;  ///< unit, timezone, zero, date ...; offset stays 0: clocks are put together
                      ///< in one place, store/burns
  ClockSpec clock;
};

struct ProbeSpec {
  Place place;
  Place channel_place, grate_place;
  std::string channel;
  Role role = Role::air;
  std::string spot, grate, piece;
  std::optional<double> x_m, y_m, z_m;
  std::optional<TemperatureDelta> correction, uncertainty;
  std::vector<CorrectionPoint> correction_points;  ///< instead of `correction`, readings ascending
  std::string thermometer;  ///< its name in the roll call; empty: the channel
  Place thermometer_place;
  std::optional<std::chrono::year_month_day> checked;
  std::optional<WrittenTime> from, to;
};

struct StintSpec {
  Place place;
  Place setting_place;
  std::string setting;
  std::map<std::string, std::string> adjustments;
  std::optional<WrittenTime> from, to;
};

struct EventSpec {
  Place place;
  EventKind kind = EventKind::note;
  WrittenTime at;
  std::optional<WrittenTime> until;
  std::string channel, piece, text;
};

struct PieceSpec {
  Place place;
  Piece piece;  ///< without its times
  std::optional<WrittenTime> on, off;
};

/// burn.toml as a plain value: units are understood, names and times are not resolved yet.
struct BurnDocument {
  std::filesystem::path path;
  std::string title;
  std::optional<Scale> unit;
  std::optional<TemperatureDelta> matters;
  std::string timezone;             ///< empty: not told
  std::optional<WrittenTime> mark;  ///< true time of the loggers' common mark
  std::optional<Seconds> mark_uncertainty;
  std::optional<Pit> pit;
  std::string pit_file;  ///< as written, relative to the document; empty: the pit is in it, or none
  std::optional<RollCallDocument> roll_call;
  std::string roll_call_file;  ///< as written
  Place roll_call_place;
  std::vector<LogSpec> logs;
  std::vector<ProbeSpec> probes;
  std::vector<StintSpec> stints;
  std::vector<EventSpec> events;
  std::vector<PieceSpec> pieces;

  /// "burn.toml:12:1", for messages.
  std::string at(Place place) const;
};

/// Reads burn.toml, and the pit.toml and rollcall.toml it names. Fails: not_found; bad_input with
/// file, line, column, what was expected and the nearest known name.
Result<BurnDocument> read_burn(const std::filesystem::path& path);

/// The same from text; a pit named by file is looked for beside `path`.
Result<BurnDocument> parse_burn(std::string_view text, const std::filesystem::path& path);

}  // namespace pitwright::documents
