#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright logs BURN` or `pitwright logs FILE...`: what was understood of logs, before anything
/// uses it.
Command logs_command(CLI::App& cli);

}  // namespace pitwright::cli
