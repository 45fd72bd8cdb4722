#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

Command show_command(CLI::App& cli);

}  // namespace pitwright::cli
