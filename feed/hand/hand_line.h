#pragma once

#include <string_view>

#include "base/result.h"
#include "feeds/feed_document.h"
#include "payload/stamp_reader.h"
#include "readings/outlet.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// A reading as a person types it: "left front 243 F", "A1 117.5C at 13:05",
/// "A1 243 F at 2026-05-02 13:05:10". The channel is all before the number; a time of day is that
/// of the last 24 hours; without "at" the time is now. Fails: bad_input.
Result<Reading> hand_line(std::string_view line, const HandFeed& feed, Moment now);

/// Reads lines from a file descriptor (the terminal) until it ends or the feed does.
Result<void> run_hand(const HandFeed& feed, int descriptor, Outlet& outlet, Troubles& troubles);

}  // namespace pitwright::feed
