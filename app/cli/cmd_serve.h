#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

Command serve_command(CLI::App& cli);

}  // namespace pitwright::cli
