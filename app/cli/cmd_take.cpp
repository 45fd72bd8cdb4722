#include "cli/cmd_take.h"

#include <memory>
#include <string>

#include <fmt/core.h>

#include "cli/store_options.h"
#include "keeping/unpack.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string burn;
  std::string directory;
  StoreOptions store;
};

int run(const Args& args) {
  const auto store = args.store.open({.make = false});
  if (!store) return complain(store.error());
  const auto line = (*store)->find(args.burn);
  if (!line) return complain(line.error());
  if (line->state != db::BurnState::kept) {
    return complain(
        {ErrorKind::conflict,
         fmt::format("'{}' was recorded live; it has no files to take out", line->name)});
  }
  const auto files = (*store)->files(line->id);
  if (!files) return complain(files.error());
  const auto document = keeping::unpack(*files, args.directory);
  if (!document) return complain(document.error());
  fmt::print("{}\n", document->string());
  return 0;
}

}  // namespace

Command take_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("take", "Takes a burn out of the store, byte for byte");
  cmd->add_option("NAME", args->burn, "its name, or its number, as 'pitwright burns' shows them")
      ->required();
  cmd->add_option("-o,--output", args->directory, "a directory that is new or empty")->required();
  args->store.declare(*cmd);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
