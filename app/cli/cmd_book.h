#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright book`: the safety record of a burn, and entries into it.
Command book_command(CLI::App& cli);

}  // namespace pitwright::cli
