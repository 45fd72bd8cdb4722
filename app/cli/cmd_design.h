#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright design PIT`: spots, order and length of a burn, and what it will be able to tell.
Command design_command(CLI::App& cli);

}  // namespace pitwright::cli
