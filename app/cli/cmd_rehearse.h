#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright rehearse PIT -o DIR`: a made-up burn on a pit whose truth is known.
Command rehearse_command(CLI::App& cli);

}  // namespace pitwright::cli
