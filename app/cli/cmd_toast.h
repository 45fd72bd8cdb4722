#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright toast PHOTO|toast.toml`: browning of bread on the grate as a dense map of heat.
Command toast_command(CLI::App& cli);

}  // namespace pitwright::cli
