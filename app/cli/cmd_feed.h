#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright feed FEED.toml --burn NAME`: live sources into the store.
Command feed_command(CLI::App& cli);

}  // namespace pitwright::cli
