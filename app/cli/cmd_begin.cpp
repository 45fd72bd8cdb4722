#include "cli/cmd_begin.h"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "burns/begin.h"
#include "cli/log_options.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::vector<std::string> logs;
  std::string directory;
  burns::DraftRequest request;
  LogOptions options;
};

int run(const Args& args) {
  const auto hints = args.options.hints();
  if (!hints) return complain(hints.error());
  if (hints->unit == "K") {
    return complain({ErrorKind::bad_input, "--unit takes F or C: the unit you read in"});
  }
  auto request = args.request;
  request.unit = hints->unit;
  request.timezone = hints->timezone;
  request.date = hints->date;
  request.decimal = hints->decimal;
  const std::vector<std::filesystem::path> logs(args.logs.begin(), args.logs.end());
  const auto begun = burns::begin_burn(request, logs, args.directory);
  if (!begun) return complain(begun.error());
  for (const auto& log : begun->copied) fmt::print("copied   {}\n", log.string());
  fmt::print("drafted  {}\n", begun->document.string());
  if (begun->to_mend.empty()) {
    fmt::print("Fill in the lines marked with <-, then look at: pitwright logs {}\n",
               args.directory);
  } else {
    fmt::print("It cannot be read yet; this is still to be said in it:\n  {}\n", begun->to_mend);
  }
  return 0;
}

}  // namespace

Command begin_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("begin", "Drafts a burn.toml from logs");
  cmd->add_option("LOG", args->logs, "log files, copied into the directory")->required();
  cmd->add_option("-o,--output", args->directory, "directory of the burn")->required();
  cmd->add_option("--title", args->request.title, "what you wanted to know");
  cmd->add_option("--stint", args->request.stints,
                  "when a setting began, such as \"13:05 A\"; once for each stint")
      ->allow_extra_args(false);
  cmd->add_option("--zero", args->request.zero,
                  "when logs without a date began, such as 2026-05-02T12:30:00");
  args->options.declare(*cmd);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
