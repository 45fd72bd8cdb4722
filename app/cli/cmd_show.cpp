#include "cli/cmd_show.h"

#include <cerrno>
#include <cstring>
#include <fstream>
#include <memory>
#include <string>

#include <fmt/core.h>

#include "cli/burn_options.h"
#include "cli/store_options.h"
#include "keeping/burn_of.h"
#include "picture/render.h"
#include "sheet/share_picture.h"
#include "sheet/show_sheet.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string burn, out, unit, cooker, share, share_wide;
  StoreOptions store;
  bool with_place = false, with_names = false;
};

Result<void> write_page(const std::string& page, const std::string& file) {
  errno = 0;
  std::ofstream out(file, std::ios::binary);
  out.write(page.data(), static_cast<std::streamsize>(page.size()));
  out.close();
  if (out) return {};
  return fail(ErrorKind::unavailable, "cannot write '{}': {}", file,
              errno == 0 ? "the system gives no reason" : std::strerror(errno));
}

std::string size_words(std::size_t bytes) {
  return fmt::format("{:.0f} kB", static_cast<double>(bytes) / 1000.0);
}

/// What was written and what it tells, for the person who is about to pass it on.
void tell(const Args& args, const sheet::SheetView& view, std::size_t bytes) {
  if (!args.out.empty())
    fmt::print("{}: {}, with {} calls on what is left when one spot or stint is taken out\n",
               args.out, size_words(bytes), view.removals.size());
  for (const auto& file : {args.share, args.share_wide})
    if (!file.empty()) fmt::print("{}\n", file);
  const auto& telling = view.options.telling;
  if (!telling.place) fmt::print("Not told: title, pit and time zone (--with-place).\n");
  if (!telling.names) fmt::print("Not told: notes and names of channels (--with-names).\n");
  fmt::print("Told as you wrote them: settings, spots and grates.\n");
}

int run(const Args& args) {
  if (args.out.empty() && args.share.empty() && args.share_wide.empty())
    return complain({ErrorKind::bad_input,
                     "say where the sheet goes: -o FILE.html, --share FILE.png or --share-wide "
                     "FILE.png"});
  auto open = keeping::open_burn(args.burn, args.store.database);
  if (!open) return complain(open.error());
  name_burn(*open);
  const auto scale = scale_of(args.unit, open->burn.scale);
  if (!scale) return complain(scale.error());
  const auto view = sheet::make_sheet(
      open->burn,
      {.telling = {args.with_place, args.with_names}, .cooker = args.cooker, .scale = *scale});
  if (!view)
    return complain({view.error().kind, open->document.string() + ": " + view.error().what});
  std::size_t bytes = 0;
  if (!args.out.empty()) {
    const auto page = sheet::show_sheet(*view);
    bytes = page.size();
    if (const auto written = write_page(page, args.out); !written) return complain(written.error());
  }
  using sheet::ShareShape;
  for (const auto& [file, shape] :
       {std::pair(args.share, ShareShape::square), std::pair(args.share_wide, ShareShape::wide)}) {
    if (file.empty()) continue;
    const auto written = picture::write_picture(sheet::draw_share(*view, shape), file);
    if (!written) return complain(written.error());
  }
  tell(args, *view, bytes);
  return 0;
}

}  // namespace

Command show_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("show", "The show sheet: one page for people who were not there");
  cmd->add_option("BURN", args->burn,
                  "directory with a burn.toml, or the file itself; store:NAME for one in the store")
      ->required();
  cmd->add_option("-o,--out", args->out, "the sheet as one HTML file that needs nothing else");
  cmd->add_option("--share", args->share,
                  "one square picture that stands alone, 1200 pixels a side; .png, .svg or .pdf");
  cmd->add_option("--share-wide", args->share_wide, "the same, 1600 by 900 pixels");
  cmd->add_option("--unit", args->unit, "F or C; else the burn's own");
  cmd->add_option(
      "--cooker", args->cooker,
      "the kind of cooker in plain words, such as \"pellet cooker with a sliding tray\"");
  cmd->add_flag("--with-place", args->with_place,
                "tell the burn's title, the pit's name and the time zone");
  cmd->add_flag("--with-names", args->with_names, "tell notes and the names of thermometers");
  args->store.declare(*cmd);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
