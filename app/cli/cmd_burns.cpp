#include "cli/cmd_burns.h"

#include <memory>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "burn_list/burn_list.h"
#include "cli/store_options.h"

namespace pitwright::cli {
namespace {

struct Args {
  StoreOptions store;
  bool json = false;
};

int run(const Args& args) {
  const auto place = args.store.place();
  if (!place) return complain(place.error());
  const auto store = db::open_store(*place, {.make = false});
  std::vector<db::BurnLine> lines;  // stays empty where there is no store yet: that is no mistake
  if (store) {
    auto burns = (*store)->burns();
    if (!burns) return complain(burns.error());
    lines = *std::move(burns);
  } else if (store.error().kind != ErrorKind::not_found) {
    return complain(store.error());
  }
  fmt::print("{}",
             args.json ? burn_list::json_of(lines, *place) : burn_list::text_of(lines, *place));
  return 0;
}

}  // namespace

Command burns_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("burns", "The burns in the store");
  cmd->add_flag("--json", args->json, "one JSON document (docs/reference/store.md)");
  args->store.declare(*cmd);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
