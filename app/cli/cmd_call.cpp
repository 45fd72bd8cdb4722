#include "cli/cmd_call.h"

#include <memory>
#include <optional>
#include <string>

#include <fmt/core.h>

#include "call/call.h"
#include "cli/burn_options.h"
#include "cli/store_options.h"
#include "keeping/burn_of.h"
#include "picture/changes_picture.h"
#include "picture/render.h"
#include "picture/strip_picture.h"
#include "report/call_json.h"
#include "report/call_text.h"
#include "report/moments.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string burn;
  std::string unit;
  std::string live;
  StoreOptions store;
  bool json = false;
  bool explain = false;
  std::string changes, strip;  ///< files for pictures; empty: none
  bool phone = false;
};

/// Writes the pictures that were asked for.
Result<void> write_pictures(const Args& args, const report::CallView& view) {
  const auto page = args.phone ? picture::Page::narrow : picture::Page::wide;
  if (!args.changes.empty()) {
    const auto written = picture::write_picture(picture::draw_changes(view, page), args.changes);
    if (!written) return written;
  }
  if (args.strip.empty()) return {};
  return picture::write_picture(picture::draw_strip(picture::strip_of(view), page), args.strip);
}

int run(const Args& args) {
  auto open = keeping::open_burn(args.burn, args.store.database);
  if (!open) return complain(open.error());
  name_burn(*open);
  const auto scale = scale_of(args.unit, open->burn.scale);
  if (!scale) return complain(scale.error());
  call::Options options;
  if (!args.live.empty()) {
    const auto moment = report::parse_moment(args.live, open->burn);
    if (!moment) return complain(moment.error());
    options.as_known_at_s = *moment;
  }
  const auto made = call::make_call(open->burn, options);
  if (!made) return complain(made.error());
  const report::CallView view{*made, open->burn, *scale};
  if (const auto written = write_pictures(args, view); !written) return complain(written.error());
  fmt::print("{}", args.json ? report::call_json(view) : report::call_text(view, args.explain));
  return 0;
}

}  // namespace

Command call_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("call", "What each setting really did: the verdict on a burn");
  cmd->add_option("BURN", args->burn,
                  "directory with a burn.toml, or the file itself; store:NAME for one in the store")
      ->required();
  cmd->add_flag("--json", args->json, "one JSON document (docs/reference/call.md)");
  cmd->add_option("--unit", args->unit, "F or C; else the burn's own");
  cmd->add_flag("--explain", args->explain, "what every number rests on");
  cmd->add_option("--live", args->live,
                  "the call as known at a moment: 14:10, 2026-05-02T14:10, or +1:10 and \"70 min\" "
                  "after the first sample");
  cmd->add_option("--changes", args->changes,
                  "picture of every change with its range; FILE ends in .svg, .png or .pdf");
  cmd->add_option("--strip", args->strip, "picture of the stints in order, with swing and events");
  cmd->add_flag("--phone", args->phone, "pictures as narrow as a phone");
  args->store.declare(*cmd);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
