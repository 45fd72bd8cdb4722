#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright lay BURN`: where the heat lies, as numbers, as JSON and as a picture.
Command lay_command(CLI::App& cli);

}  // namespace pitwright::cli
