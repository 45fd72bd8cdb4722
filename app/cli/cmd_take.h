#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

Command take_command(CLI::App& cli);

}  // namespace pitwright::cli
