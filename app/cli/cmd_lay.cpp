#include "cli/cmd_lay.h"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/core.h>

#include "call/call.h"
#include "cli/burn_options.h"
#include "cli/picture_options.h"
#include "cli/store_options.h"
#include "keeping/burn_of.h"
#include "lay/lay.h"
#include "mapped/lay_json.h"
#include "mapped/lay_maps.h"
#include "mapped/lay_text.h"
#include "picture/lay_picture.h"
#include "units/parse.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string burn, unit, within, wanted, outside;
  std::vector<std::string> at;
  StoreOptions store;
  PictureOptions picture;
  bool json = false;
};

/// "12 in,9 in,main" or, with one grate, "12 in,9 in".
Result<mapped::LayWishes::Spot> parse_spot(const std::string& text) {
  const auto first = text.find(',');
  if (first == std::string::npos)
    return fail(ErrorKind::bad_input, "--at takes X,Y,GRATE such as \"12 in,9 in,main\", not '{}'",
                text);
  const auto second = std::min(text.find(',', first + 1), text.size());
  const auto x = parse_length_m(std::string_view(text).substr(0, first));
  const auto y = parse_length_m(std::string_view(text).substr(first + 1, second - first - 1));
  if (!x) return fail(ErrorKind::bad_input, "--at: {}", x.error().what);
  if (!y) return fail(ErrorKind::bad_input, "--at: {}", y.error().what);
  auto grate = second < text.size() ? text.substr(second + 1) : std::string();
  grate.erase(0, grate.find_first_not_of(' '));
  grate.erase(grate.find_last_not_of(' ') + 1);
  return mapped::LayWishes::Spot{*x, *y, grate};
}

/// A temperature of the command line in degC; empty where none was given.
Result<std::optional<double>> parse_point(std::string_view option, const std::string& text,
                                          Scale scale) {
  if (text.empty()) return std::optional<double>();
  const auto point = parse_temperature(text, scale);
  if (!point) return fail(ErrorKind::bad_input, "{}: {}", option, point.error().what);
  return std::optional(point->celsius());
}

Result<std::optional<double>> parse_band(const std::string& text, Scale scale) {
  if (text.empty()) return std::optional<double>();
  const auto band = parse_temperature_delta(text, scale);
  if (!band) return fail(ErrorKind::bad_input, "--within: {}", band.error().what);
  if (!(band->kelvins() > 0.0))
    return fail(ErrorKind::bad_input, "--within takes a difference above zero, not '{}'", text);
  return std::optional(band->kelvins());
}

Result<mapped::LayWishes> wishes_of(const Args& args, Scale scale) {
  mapped::LayWishes wishes;
  const auto band = parse_band(args.within, scale);
  if (!band) return std::unexpected(band.error());
  wishes.band_k = *band;
  const auto wanted = parse_point("--wanted", args.wanted, scale);
  if (!wanted) return std::unexpected(wanted.error());
  wishes.wanted_c = *wanted;
  const auto outside = parse_point("--outside", args.outside, scale);
  if (!outside) return std::unexpected(outside.error());
  wishes.outside_c = *outside;
  for (const auto& text : args.at) {
    const auto spot = parse_spot(text);
    if (!spot) return std::unexpected(spot.error());
    wishes.places.push_back(*spot);
  }
  return wishes;
}

int run(const Args& args) {
  auto open = keeping::open_burn(args.burn, args.store.database);
  if (!open) return complain(open.error());
  name_burn(*open);
  const auto scale = scale_of(args.unit, open->burn.scale);
  if (!scale) return complain(scale.error());
  const auto wishes = wishes_of(args, *scale);
  if (!wishes) return complain(wishes.error());
  const auto made = call::make_call(open->burn, {.as_known_at_s = {}, .needs_stints = false});
  if (!made) return complain(made.error());
  lay::LayOptions options;
  options.band_k = wishes->band_k.value_or(open->burn.matters.kelvins());
  const auto lay = lay::make_lay(open->burn.pit, made->together, options);
  if (!lay) return complain({lay.error().kind, open->document.string() + ": " + lay.error().what});
  const auto view = mapped::view_of({*made, open->burn, *scale}, *lay, *wishes);
  if (!view) return complain(view.error());
  const auto draw = [&](picture::Page page) {
    return picture::draw_lay(mapped::picture_of(*view), page);
  };
  if (const auto written = args.picture.write(draw); !written) return complain(written.error());
  fmt::print("{}", args.json ? mapped::lay_json(*view) : mapped::lay_text(*view));
  return 0;
}

}  // namespace

Command lay_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("lay", "Where the heat lies: a map of every grate and setting");
  cmd->add_option("BURN", args->burn,
                  "directory with a burn.toml, or the file itself; store:NAME for one in the store")
      ->required();
  cmd->add_flag("--json", args->json, "one JSON document (docs/reference/lay.md)");
  cmd->add_option("--unit", args->unit, "F or C; else the burn's own");
  cmd->add_option("--at", args->at,
                  "what the map says of a place: X,Y,GRATE such as \"12 in,9 in,main\", from the "
                  "left wall and from the door side; may be given again");
  cmd->add_option("--within", args->within,
                  "band to count the grate by, such as \"10 F\"; else what matters to the burn");
  cmd->add_option("--wanted", args->wanted,
                  "what to dial for this heat at the food, such as \"250 F\": at the places of "
                  "--at, else over each grate");
  cmd->add_option("--outside", args->outside, "today's outside air, for --wanted");
  args->picture.declare(*cmd, "picture of the maps and their differences");
  args->store.declare(*cmd);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
