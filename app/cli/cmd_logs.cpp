#include "cli/cmd_logs.h"

#include <algorithm>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "cli/log_options.h"
#include "understood/understood.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::vector<std::string> paths;
  LogOptions options;
  bool json = false;
};

bool is_burn(const std::filesystem::path& path) {
  std::error_code problem;
  return std::filesystem::is_directory(path, problem) || path.extension() == ".toml";
}

Result<understood::View> view_of(const Args& args) {
  const std::vector<std::filesystem::path> paths(args.paths.begin(), args.paths.end());
  const auto hints = args.options.hints();
  if (!hints) return std::unexpected(hints.error());
  if (std::ranges::none_of(paths, is_burn)) return understood::of_files(paths, *hints);
  if (paths.size() > 1) {
    return fail(ErrorKind::bad_input, "give one burn, or log files, not both");
  }
  return understood::of_burn(paths.front());
}

int run(const Args& args) {
  const auto view = view_of(args);
  if (!view) return complain(view.error());
  fmt::print("{}", args.json ? understood::json_of(*view) : understood::text_of(*view));
  return view->mistake ? complain(*view->mistake) : 0;
}

}  // namespace

Command logs_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("logs", "What was understood of logs, before anything uses it");
  cmd->add_option("BURN", args->paths, "directory with a burn.toml, or the file; or log files")
      ->required();
  cmd->add_flag("--json", args->json, "one JSON document (docs/reference/logs.schema.json)");
  args->options.declare(*cmd);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
