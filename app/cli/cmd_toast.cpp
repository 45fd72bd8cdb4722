#include "cli/cmd_toast.h"

#include <filesystem>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "cli/burn_options.h"
#include "cli/picture_options.h"
#include "picture/lay_picture.h"
#include "toast/pixels.h"
#include "toast/toast.h"
#include "toasted/joined_picture.h"
#include "toasted/toast_view.h"
#include "units/parse.h"

namespace pitwright::cli {
namespace {

namespace fs = std::filesystem;

struct Args {
  std::string path;
  std::string grate, width, depth, card, untoasted;
  std::string unit;
  std::string found;
  PictureOptions picture;
  int slices = 0;
  bool json = false;
};

Result<double> length_of(const std::string& text, const char* option) {
  if (text.empty())
    return fail(ErrorKind::bad_input,
                "a photograph alone needs {}, such as {} \"18 in\"; or give a "
                "toast.toml (docs/reference/toast.md)",
                option, option);
  const auto length = parse_length_m(text);
  if (!length) return fail(ErrorKind::bad_input, "{}: {}", option, length.error().what);
  constexpr double least_m = 0.1, most_m = 5.0;
  if (*length < least_m || *length > most_m)
    return fail(ErrorKind::bad_input, "{}: a grate is between 10 cm and 5 m", option);
  return *length;
}

Result<photo::Quad> quad_of(const std::string& text, const char* option) {
  if (text.empty())
    return fail(ErrorKind::bad_input,
                "a photograph alone needs {} \"x,y x,y x,y x,y\" (left back, "
                "right back, right front, left front, in pixels); or give a toast.toml",
                option);
  const auto quad = toast::parse_quad(text);
  if (!quad) return fail(ErrorKind::bad_input, "{}: {}", option, quad.error().what);
  return *quad;
}

/// A photograph alone, told by options.
Result<toast::ToastDocument> told(const Args& args) {
  toast::ToastDocument document;
  document.path = document.photo = args.path;
  const auto width = length_of(args.width, "--width");
  if (!width) return std::unexpected(width.error());
  const auto depth = length_of(args.depth, "--depth");
  if (!depth) return std::unexpected(depth.error());
  const auto grate = quad_of(args.grate, "--grate");
  if (!grate) return std::unexpected(grate.error());
  const auto card = quad_of(args.card, "--card");
  if (!card) return std::unexpected(card.error());
  document.scene.width_m = *width;
  document.scene.depth_m = *depth;
  document.scene.grate = *grate;
  document.scene.cards = {{*card}};
  if (!args.untoasted.empty()) {
    const auto bread = quad_of(args.untoasted, "--untoasted");
    if (!bread) return std::unexpected(bread.error());
    document.scene.untoasted = *bread;
  }
  if (args.slices > 0) document.slices = args.slices;
  return document;
}

Result<toast::ToastDocument> document_of(const Args& args) {
  std::error_code problem;
  const fs::path path(args.path);
  if (fs::is_directory(path, problem)) return toast::read_toast(path / "toast.toml");
  if (path.extension() != ".toml") return told(args);
  if (!args.grate.empty() || !args.width.empty() || !args.depth.empty() || !args.card.empty() ||
      !args.untoasted.empty() || args.slices != 0)
    return fail(ErrorKind::bad_input,
                "the options on grate, card and slices go with a photograph; "
                "{} says them itself",
                args.path);
  return toast::read_toast(path);
}

Result<void> draw(const toast::Toast& toast, const fs::path& out) {
  auto seen = toast.seen;
  for (std::size_t i = 0; i < seen.slices.size(); ++i) seen.slices[i].flaw = toast.map.flaws[i];
  return photo::draw_found(toast.document.photo, toast.document.scene, seen, out);
}

/// Writes the joint map in the forms that were asked for.
Result<void> draw_joined(const Args& args, const toasted::ToastView& view) {
  if (args.picture.any() && !view.toast.joined) {
    const auto& why = view.toast.not_joined;
    return fail(
        ErrorKind::bad_input, "there is no joint map to draw: {}",
        why.empty() ? "name the burn that the bread was toasted in, [burn] in toast.toml" : why);
  }
  return args.picture.write([&](picture::Page page) {
    return picture::draw_lay(toasted::joined_picture(view), page, "toast");
  });
}

int run(const Args& args) {
  auto document = document_of(args);
  if (!document) return complain(document.error());
  const auto scale = scale_of(args.unit, document->scale);
  if (!scale) return complain(scale.error());
  const auto toast = toast::open_toast(*std::move(document));
  if (!toast) return complain(toast.error());
  if (!args.found.empty())
    if (const auto drawn = draw(*toast, args.found); !drawn) return complain(drawn.error());
  const toasted::ToastView view{*toast, *scale};
  if (const auto drawn = draw_joined(args, view); !drawn) return complain(drawn.error());
  fmt::print("{}", args.json ? toasted::toast_json(view) : toasted::toast_text(view));
  return 0;
}

}  // namespace

Command toast_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("toast", "Browning of bread on the grate as a dense map of heat");
  cmd->add_option(
         "PHOTO", args->path,
         "a toast.toml, the directory that holds it, or a photograph with the options below")
      ->required();
  cmd->add_option("--grate", args->grate,
                  "its corners in pixels: \"x,y x,y x,y x,y\", left back, right back, right front, "
                  "left front");
  cmd->add_option("--width", args->width, "of the grate, left to right, such as \"18 in\"");
  cmd->add_option("--depth", args->depth, "of the grate, door to back");
  cmd->add_option("--card", args->card, "corners of an 18 % gray card, as for --grate");
  cmd->add_option("--untoasted", args->untoasted, "corners inside a slice that saw no heat");
  cmd->add_option("--slices", args->slices, "how many were laid out");
  cmd->add_option("--unit", args->unit, "F or C");
  cmd->add_option("--found", args->found,
                  "write the photograph with the slices found drawn in, as PNG");
  args->picture.declare(
      *cmd,
      "picture of the map joined with the thermometers of a burn, and of what toast "
      "shows beyond the air");
  cmd->add_flag("--json", args->json, "one JSON document (docs/reference/toast.schema.json)");
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
