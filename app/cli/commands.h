#pragma once

#include <functional>
#include <vector>

#include <CLI/CLI.hpp>

#include "base/result.h"

namespace pitwright::cli {

/// One subcommand: where its options were declared, and what it does once they are read.
struct Command {
  CLI::App* parsed;
  std::function<int()> run;  ///< returns the exit status
};

/// Prints the error for a person on standard error and gives the exit status of its kind: 2 for bad
/// input, 1 otherwise.
int complain(const Error& error);

/// The one list of commands, in the order of the help page.
std::vector<Command> all_commands(CLI::App& cli);

}  // namespace pitwright::cli
