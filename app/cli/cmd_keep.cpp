#include "cli/cmd_keep.h"

#include <memory>
#include <string>

#include <fmt/core.h>
#include <fmt/ranges.h>

#include "cli/store_options.h"
#include "keeping/pack.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string burn;
  std::string name;
  StoreOptions store;
};

int run(const Args& args) {
  const auto packed = keeping::pack(args.burn, args.name);
  if (!packed) return complain(packed.error());
  const auto store = args.store.open();
  if (!store) return complain(store.error());
  const auto kept = (*store)->keep(packed->burn);
  if (!kept) return complain(kept.error());
  const auto number = static_cast<std::int64_t>(kept->id);
  if (kept->was_there) {
    fmt::print("Kept already as '{}' (number {}): the same files.\n", kept->name, number);
    return 0;
  }
  std::size_t bytes = 0;
  for (const auto& file : packed->burn.files) bytes += file.bytes.size();
  fmt::print("Kept as '{}' (number {}): {} files, {} bytes, {} readings.\n", kept->name, number,
             packed->burn.files.size(), bytes, packed->burn.samples.size());
  if (!packed->left_out.empty()) {
    fmt::print("Not named in burn.toml, so not kept: {}.\n", fmt::join(packed->left_out, ", "));
  }
  return 0;
}

}  // namespace

Command keep_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("keep", "Puts a burn, its pit and its logs into the store");
  cmd->add_option("BURN", args->burn, "directory with a burn.toml, or the file itself")->required();
  cmd->add_option("--name", args->name, "what to call it; else the directory's name");
  args->store.declare(*cmd);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
