#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright call BURN`: the verdict on a burn, for people or as JSON.
Command call_command(CLI::App& cli);

}  // namespace pitwright::cli
