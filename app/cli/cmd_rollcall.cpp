#include "cli/cmd_rollcall.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include <fmt/core.h>

#include "documents/rollcall_document.h"
#include "documents/toml.h"
#include "rollcall/burn_view.h"
#include "rollcall/roll_call_view.h"
#include "thermometer/roll_call.h"
#include "units/parse.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string path;
  std::string unit;
  bool json = false;
};

/// A directory, or a document that speaks of logs, is a burn; any other document a roll call.
bool is_burn(const std::filesystem::path& path) {
  std::error_code problem;
  if (std::filesystem::is_directory(path, problem)) return true;
  const auto table = documents::read_toml(path);
  return table && (table->find("logs") != nullptr || table->find("stint") != nullptr);
}

int run_burn(const Args& args, std::optional<Scale> scale) {
  const auto view = rollcall::view_of_burn(args.path, scale);
  if (!view) return complain(view.error());
  fmt::print("{}", args.json ? rollcall::burn_json(*view) : rollcall::burn_text(*view));
  return 0;
}

int run_file(const Args& args, std::optional<Scale> scale) {
  const auto document = documents::read_roll_call(args.path);
  if (!document) return complain(document.error());
  const auto called = thermometer::hold(document->conditions, document->probes);
  const rollcall::RollCallView view{*document, called, scale.value_or(document->unit)};
  fmt::print("{}", args.json ? rollcall::roll_call_json(view) : rollcall::roll_call_text(view));
  return 0;
}

int run(const Args& args) {
  std::optional<Scale> scale;
  if (!args.unit.empty()) {
    scale = parse_scale(args.unit);
    if (!scale)
      return complain({ErrorKind::bad_input, "--unit takes F or C, not '" + args.unit + "'"});
  }
  return is_burn(args.path) ? run_burn(args, scale) : run_file(args, scale);
}

}  // namespace

Command rollcall_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand(
      "rollcall", "Thermometers checked in ice, boil and bundle, or seen in a burn's log");
  cmd->add_option("FILE", args->path, "a rollcall.toml; or a burn's directory or burn.toml")
      ->required();
  cmd->add_option("--unit", args->unit, "F or C; else the document's own");
  cmd->add_flag("--json", args->json, "one JSON document (docs/reference/rollcall.md)");
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
