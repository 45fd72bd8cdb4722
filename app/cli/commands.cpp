#include "cli/commands.h"

#include <cstdio>

#include <fmt/core.h>

#include "cli/cmd_begin.h"
#include "cli/cmd_call.h"
#include "cli/cmd_design.h"
#include "cli/cmd_lay.h"
#include "cli/cmd_logs.h"
#include "cli/cmd_rehearse.h"

namespace pitwright::cli {

int complain(const Error& error) {
  fmt::print(stderr, "pitwright: {}\n", error.what);
  return error.kind == ErrorKind::bad_input ? 2 : 1;
}

std::vector<Command> all_commands(CLI::App& cli) {
  return {begin_command(cli), logs_command(cli),   call_command(cli),
          lay_command(cli),   design_command(cli), rehearse_command(cli)};
}

}  // namespace pitwright::cli
