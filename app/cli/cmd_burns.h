#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

Command burns_command(CLI::App& cli);

}  // namespace pitwright::cli
