#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "base/result.h"
#include "readings/reading.h"

namespace pitwright::feed {

/// Remembers when messages without a stamp of their own arrived, until they are surely
/// acknowledged. A message that the broker sends again after a crash then gets the time of its
/// first arrival, and the store knows it: it is not counted twice.
///
/// A message is the same one if its identifier, topic and payload are those of one that was noted
/// on an earlier connection of the same session, and not long ago: a broker sends the
/// unacknowledged messages of a session again under their identifiers (MQTT 3.1.1 section 4.4), and
/// not more of them than were in flight.
class MidLedger {
 public:
  /// Memory only, for tests and for sources whose payloads carry stamps.
  MidLedger() = default;
  /// A file of a fixed size, made where there is none. Fails: unavailable.
  static Result<MidLedger> open(const std::filesystem::path& file);
  MidLedger(MidLedger&& other) noexcept;
  MidLedger& operator=(MidLedger&& other) noexcept;
  ~MidLedger();

  /// A connection begins; `same_session`: what was noted before may come again.
  void begin(bool same_session);
  /// When a message first arrived. Notes it where it is new. `maybe_again` is false where the
  /// broker says that it sends it for the first time. Pre: id > 0
  Moment arrival(int id, bool maybe_again, std::string_view topic, std::string_view payload,
                 Moment now);
  /// Drops what was noted since the last sync: its readings carry stamps of their own.
  void forget() { noted_.clear(); }
  /// Makes what was noted durable; before the readings go to the store. Fails: unavailable.
  Result<void> sync();

 private:
  struct Entry {
    std::uint64_t fingerprint = 0;
    std::int64_t at_us = 0;
    std::int64_t number = 0;  ///< in order of noting; 0: nothing noted
  };
  /// More than are ever in flight, and far fewer than there are identifiers: one that is used for
  /// another message was noted longer ago.
  static constexpr std::int64_t lately = 16'000;
  static constexpr std::size_t identifiers = 65536;  ///< MQTT: 1 to 65535
  static_assert(sizeof(Entry) == 24);

  int fd_ = -1;
  std::vector<Entry> entries_ = std::vector<Entry>(identifiers);
  std::vector<int> noted_;                                    ///< since the last sync
  std::vector<bool> fresh_ = std::vector<bool>(identifiers);  ///< noted on this connection
  std::int64_t newest_ = 0;                                   ///< number of the last one noted
  std::int64_t may_come_after_ = 0;
};

}  // namespace pitwright::feed
