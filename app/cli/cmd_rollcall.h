#pragma once

#include "cli/commands.h"

namespace pitwright::cli {

/// `pitwright rollcall FILE` or `pitwright rollcall BURN`: thermometers checked in ice, boil and
/// bundle, or seen in a burn's log.
Command rollcall_command(CLI::App& cli);

}  // namespace pitwright::cli
