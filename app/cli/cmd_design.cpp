#include "cli/cmd_design.h"

#include <cmath>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/core.h>

#include "burns/open_burn.h"
#include "cli/burn_options.h"
#include "documents/pit_document.h"
#include "planned/plan_view.h"
#include "units/parse.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string pit;
  std::string settings = "2";
  int probes = 6;
  std::string question = "lay";
  std::string matters;
  std::string hours;
  std::string from;
  std::string fuel;
  std::string soak;
  std::string unit;
  bool json = false;
};

/// A, B, C ...: as many settings as asked for.
Result<std::vector<std::string>> lettered(double count) {
  constexpr double letters = 26;
  if (count != std::floor(count) || count < 0 || count > letters)
    return fail(ErrorKind::bad_input,
                "--settings takes their number or their names, such as 3 or "
                "\"low,mid,high\"");
  std::vector<std::string> names;
  for (int k = 0; k < static_cast<int>(count); ++k)
    names.emplace_back(1, static_cast<char>('A' + k));
  return names;
}

Result<std::vector<std::string>> settings_of(const std::string& text) {
  if (const auto count = parse_number(text)) return lettered(*count);
  std::vector<std::string> names(1);
  for (const char c : text) {
    if (c == ',')
      names.emplace_back();
    else
      names.back() += c;
  }
  for (auto& name : names) {
    const auto first = name.find_first_not_of(' ');
    name = first == std::string::npos ? ""
                                      : name.substr(first, name.find_last_not_of(' ') + 1 - first);
  }
  return names;
}

Result<design::Question> question_of(const std::string& text) {
  for (const auto q : {design::Question::level, design::Question::lay, design::Question::tilt})
    if (text == name_of(q)) return q;
  return fail(ErrorKind::bad_input, "--question is level, lay or tilt, not '{}'", text);
}

Result<std::optional<design::Fuel>> fuel_of(const std::string& text) {
  if (text.empty()) return std::optional<design::Fuel>{};
  for (const auto fuel :
       {design::Fuel::pellet, design::Fuel::charcoal, design::Fuel::wood, design::Fuel::gas})
    if (text == name_of(fuel)) return fuel;
  return fail(ErrorKind::bad_input, "--fuel is pellet, charcoal, wood or gas, not '{}'", text);
}

/// Hours as a bare number, or any length of time with its unit.
Result<std::optional<double>> seconds_of(const std::string& text, const char* option) {
  if (text.empty()) return std::optional<double>{};
  if (const auto hours = parse_number(text)) return std::optional(*hours * 3600.0);
  const auto elapsed = parse_elapsed(text);
  if (!elapsed) return fail(ErrorKind::bad_input, "{}: {}", option, elapsed.error().what);
  return std::optional(elapsed->count());
}

Result<design::Wishes> wishes_of(const Args& args, Scale scale,
                                 std::optional<TemperatureDelta> matters) {
  design::Wishes wishes;
  const auto settings = settings_of(args.settings);
  if (!settings) return std::unexpected(settings.error());
  wishes.settings = *settings;
  wishes.probes = args.probes;
  const auto question = question_of(args.question);
  if (!question) return std::unexpected(question.error());
  wishes.question = *question;
  const auto fuel = fuel_of(args.fuel);
  if (!fuel) return std::unexpected(fuel.error());
  wishes.fuel = *fuel;
  const auto hours = seconds_of(args.hours, "--hours");
  if (!hours) return std::unexpected(hours.error());
  wishes.within_s = *hours;
  const auto soak = seconds_of(args.soak, "--soak");
  if (!soak) return std::unexpected(soak.error());
  wishes.soak_s = *soak;
  wishes.matters =
      matters.value_or(TemperatureDelta::from(scale == Scale::celsius ? 5.0 : 10.0, scale));
  if (args.matters.empty()) return wishes;
  const auto asked = parse_temperature_delta(args.matters, scale);
  if (!asked) return fail(ErrorKind::bad_input, "--matters: {}", asked.error().what);
  wishes.matters = *asked;
  return wishes;
}

/// A directory stands for the pit.toml in it.
std::filesystem::path pit_file(const std::string& path) {
  std::error_code problem;
  const std::filesystem::path given(path);
  return std::filesystem::is_directory(given, problem) ? given / "pit.toml" : given;
}

int run(const Args& args) {
  const auto pit = documents::read_pit(pit_file(args.pit));
  if (!pit) return complain(pit.error());
  std::optional<burns::OpenBurn> earlier;
  if (!args.from.empty()) {
    auto open = burns::open_burn(args.from);
    if (!open) return complain(open.error());
    earlier = std::move(*open);
  }
  const auto scale = scale_of(args.unit, earlier ? earlier->burn.scale : Scale::fahrenheit);
  if (!scale) return complain(scale.error());
  const auto wishes =
      wishes_of(args, *scale, earlier ? std::optional(earlier->burn.matters) : std::nullopt);
  if (!wishes) return complain(wishes.error());
  const auto habits = earlier ? design::learned_habits(earlier->burn)
                              : Result<design::Habits>(design::assumed_habits(wishes->fuel));
  if (!habits) return complain(habits.error());
  const auto made = design::make_design(*pit, *wishes, *habits);
  if (!made) return complain(made.error());
  const planned::PlanView view{*pit, *wishes, *made, *scale};
  fmt::print("{}", args.json ? planned::plan_json(view) : planned::plan_text(view));
  return 0;
}

}  // namespace

Command design_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand(
      "design", "Spots, order and length of a burn, and what it will be able to tell");
  cmd->add_option("PIT", args->pit, "a pit.toml, or the directory that holds it")->required();
  cmd->add_option("--settings", args->settings, "how many, or their names: 3, or \"low,mid,high\"");
  cmd->add_option("--probes", args->probes, "how many thermometers you have for the air");
  cmd->add_option("--question", args->question, "level, lay or tilt");
  cmd->add_option("--matters", args->matters,
                  "the smallest difference you would act on, such as \"10 F\"");
  cmd->add_option("--hours", args->hours, "time for it all, from lighting: 5, or \"4 h 30 min\"");
  cmd->add_option("--from", args->from, "an earlier burn of this pit, to learn its habits from");
  cmd->add_option("--fuel", args->fuel, "pellet, charcoal, wood or gas");
  cmd->add_option("--soak", args->soak, "from lighting to soaked, such as \"90 min\"");
  cmd->add_option("--unit", args->unit, "F or C; else that of the earlier burn, else F");
  cmd->add_flag("--json", args->json, "one JSON document (docs/reference/design.md)");
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
