#include "cli/commands.h"

#include <cstdio>

#include <fmt/core.h>

#include "cli/cmd_begin.h"
#include "cli/cmd_book.h"
#include "cli/cmd_burns.h"
#include "cli/cmd_call.h"
#include "cli/cmd_design.h"
#include "cli/cmd_feed.h"
#include "cli/cmd_keep.h"
#include "cli/cmd_lay.h"
#include "cli/cmd_logs.h"
#include "cli/cmd_rehearse.h"
#include "cli/cmd_rollcall.h"
#include "cli/cmd_serve.h"
#include "cli/cmd_show.h"
#include "cli/cmd_take.h"
#include "cli/cmd_toast.h"

namespace pitwright::cli {

int complain(const Error& error) {
  fmt::print(stderr, "pitwright: {}\n", error.what);
  return error.kind == ErrorKind::bad_input ? 2 : 1;
}

std::vector<Command> all_commands(CLI::App& cli) {
  return {
      begin_command(cli),  logs_command(cli),     call_command(cli), lay_command(cli),
      design_command(cli), rollcall_command(cli), book_command(cli), show_command(cli),
      toast_command(cli),  rehearse_command(cli), keep_command(cli), take_command(cli),
      burns_command(cli),  serve_command(cli),    feed_command(cli),
  };
}

}  // namespace pitwright::cli
