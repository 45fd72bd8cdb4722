#pragma once

#include <atomic>
#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>

#include "db/store.h"
#include "feeds/feed_document.h"
#include "readings/reading.h"

namespace pitwright::feed {

/// What a run needs beside its document.
struct Running {
  db::BurnId burn{};
  std::filesystem::path memory;             ///< folder of what the sources remember; empty: nothing
  std::chrono::seconds line_every{60};      ///< how often it says how things stand
  const std::atomic<bool>* stop = nullptr;  ///< set from outside, even by a signal
  Say say;                                  ///< lines for people
  int terminal = 0;                         ///< where readings by hand are typed
};

/// What a run did.
struct RunReport {
  Taken taken;
  std::int64_t troubles = 0;
};

/// Runs the sources of a document into a burn until it is told to stop, or until all have ended.
/// Each source has a thread; the store is used by the calling one alone.
/// Fails: where every source failed, with the first one's error; unavailable where `memory` cannot
/// be made.
Result<RunReport> run_feed(const FeedDocument& document, db::Store& store, const Running& running);

}  // namespace pitwright::feed
