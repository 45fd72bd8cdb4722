#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

Command keep_command(CLI::App& cli);

}  // namespace pitwright::cli
