#pragma once

#include <filesystem>

#include "feeds/feed_document.h"
#include "readings/outlet.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// Follows a log that is being written until the feed ends. Runs on a thread of its own. `memory`
/// is the folder where it keeps how far it was; empty: it begins at the start each time, which
/// costs time but stores nothing twice.
/// Fails: bad_input where the table needs a word from a person.
Result<void> run_tail(const FileFeed& feed, const std::filesystem::path& memory, Outlet& outlet,
                      Troubles& troubles);

}  // namespace pitwright::feed
