#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright begin LOG... -o DIR`: drafts a burn.toml from logs.
Command begin_command(CLI::App& cli);

}  // namespace pitwright::cli
