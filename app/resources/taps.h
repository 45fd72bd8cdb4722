#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "db/store.h"
#include "http/body.h"

namespace pitwright::resources {

/// What somebody writes down with one thumb.
struct Tap {
  std::string id;    ///< made by the phone, so that telling it twice is harmless
  std::string what;  ///< "lid", "lid closed", "split", "fuel", "gust", "rain", "moved", "note",
                     ///< "changed", "reading"
  db::Stamp at;
  std::optional<db::Stamp> until;
  std::string setting, spot, text;
  std::string value;  ///< of a reading, with its unit: "263 F"
  std::string by;
  bool is_undone = false;
};

/// Taps as a request carries them. Fails: bad_input, naming the entry and the key.
Result<std::vector<Tap>> read_taps(std::string_view json, const std::string& by);

/// What a burn has of taps: marks and settings made, in order of arrival, undone ones included.
std::vector<Tap> taps_of(std::span<const db::Record> all);

std::string taps_json(std::span<const Tap> taps);
std::string tap_json(const Tap& tap);

/// Writes taps to a burn: marks and settings as records, readings as samples of the channel at the
/// spot. "lid closed" ends the last lid that is still open. What is there already changes nothing.
/// Fails: as the store does; bad_input for a reading at a spot the burn does not have.
Result<void> write_taps(db::Store& store, db::BurnId burn, std::span<const Tap> taps,
                        db::Stamp now);

/// Takes one back. Taking back twice changes nothing. Fails: not_found.
Result<Tap> undo_tap(db::Store& store, db::BurnId burn, const std::string& id,
                     const std::string& by, db::Stamp now);

}  // namespace pitwright::resources
