#pragma once

#include <cstddef>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "db/store.h"

namespace pitwright::live {

/// The rehearsed burn as a whole, kept in the store; its name. Fails: as the store does.
Result<std::string> keep_demo(db::Store& store);

/// A rehearsed burn that is played into the store as if it burned now: readings as loggers take
/// them, settings as somebody taps them. May be used from two threads.
class Demo {
 public:
  /// Makes the burn up and begins to play it, `speed` times as fast as it burned; its last reading
  /// falls on the wall's clock at the end. One is played at a time: asked again, it gives the one
  /// that plays. Fails: as the store does.
  Result<std::string> start(db::Store& store, double speed, db::Stamp now);

  /// Writes everything that is due, with the store of this thread. Fails: as the store does; then
  /// it tries again at the next call.
  Result<void> play(db::Store& store, db::Stamp now);

 private:
  struct Playing {
    std::string name;
    db::BurnId id{};
    db::Stamp began;  ///< on the wall's clock
    db::Stamp lit;    ///< of the burn
    double speed = 1.0;
    std::vector<db::Sample> samples;  ///< ascending
    std::vector<db::Record> turns;    ///< ascending
    std::size_t samples_done = 0, turns_done = 0;
  };
  std::mutex mutex_;
  std::optional<Playing> playing_;  ///< guarded
};

}  // namespace pitwright::live
