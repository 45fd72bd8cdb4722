#include "cli/cmd_rehearse.h"

#include <cstdint>
#include <filesystem>
#include <fstream>
#include <memory>
#include <optional>
#include <sstream>
#include <string>

#include <fmt/core.h>

#include "cli/live_rehearsal.h"
#include "rehearsal/burn_files.h"
#include "rehearsal/pit_file.h"
#include "rehearse/scenarios.h"
#include "units/parse.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string pit;
  std::string directory;
  std::string plan;
  std::string dwell;
  std::string lead;
  std::string start;
  std::uint64_t seed = 1;
  bool truth = false;
  bool list = false;
  bool live = false;
  LivePlay play;
  std::string pit_file;
};

/// A file, a directory that holds pit.toml, or the name of a built-in pit.
Result<rehearse::Scenario> scenario_of(const Args& args) {
  const std::filesystem::path path(args.pit);
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored))
    return rehearsal::read_pit_file(path / "pit.toml", args.seed);
  if (std::filesystem::exists(path, ignored) || path.extension() == ".toml")
    return rehearsal::read_pit_file(path, args.seed);
  return rehearse::make_scenario(args.pit);
}

int write_pit(const rehearse::Scenario& scenario, const std::string& file) {
  std::ofstream out(file, std::ios::binary);
  out << rehearsal::pit_file_text(scenario, Scale::fahrenheit);
  out.close();
  if (!out) return complain({ErrorKind::unavailable, fmt::format("{}: cannot be written", file)});
  return 0;
}

void print_list() {
  for (const auto& known : rehearse::scenario_names())
    fmt::print("{:<14} {}\n", known.name, known.story);
}

/// What the options change of a pit's usual plan.
Result<rehearse::Plan> plan_of(const Args& args, rehearse::Plan plan) {
  std::optional<double> dwell_s;
  if (!args.dwell.empty()) {
    const auto dwell = parse_elapsed(args.dwell);
    if (!dwell) return fail(ErrorKind::bad_input, "--dwell: {}", dwell.error().what);
    dwell_s = dwell->count();
  }
  if (!args.plan.empty()) {
    const double each_s = plan.stints.empty() ? 2100 : plan.stints.front().dwell_s;
    plan.stints.clear();
    std::istringstream words(args.plan);
    for (std::string word; words >> word;) plan.stints.push_back({word, each_s});
  }
  if (dwell_s) {
    for (auto& stint : plan.stints) stint.dwell_s = *dwell_s;
  }
  if (args.start == "cold") {
    plan.start = rehearse::Start::cold;
    plan.lead_s = 3600;
  } else if (args.start == "soaked") {
    plan.start = rehearse::Start::soaked;
  } else if (!args.start.empty()) {
    return fail(ErrorKind::bad_input, "--start is soaked or cold, not '{}'", args.start);
  }
  if (!args.lead.empty()) {
    const auto lead = parse_elapsed(args.lead);
    if (!lead) return fail(ErrorKind::bad_input, "--lead: {}", lead.error().what);
    plan.lead_s = lead->count();
  }
  return plan;
}

void print_made(const rehearse::RehearsedBurn& made, const Args& args) {
  fmt::print("{}: {} stints, {:.0f} min, {} logs\n", made.burn.title, made.burn.stints.size(),
             made.burn.stints.back().to_s / 60, made.logs.size());
  fmt::print("Written to {}. Read it with: pitwright call {}\n", args.directory, args.directory);
}

int played(const rehearse::RehearsedBurn& made, const Args& args) {
  const auto done = play_live(made, args.play);
  return done ? 0 : complain(done.error());
}

int run(const Args& args) {
  if (args.list) {
    print_list();
    return 0;
  }
  if (args.pit.empty() || (args.directory.empty() && args.pit_file.empty() && !args.live))
    return complain(
        {ErrorKind::bad_input, "rehearse needs a pit and -o DIR; --list shows the built-in pits"});
  if (args.live != !args.play.where.empty())
    return complain({ErrorKind::bad_input, "--live needs --mqtt mqtt://host:port/topic"});
  const auto scenario = scenario_of(args);
  if (!scenario) return complain(scenario.error());
  if (!args.pit_file.empty()) {
    const int status = write_pit(*scenario, args.pit_file);
    if (status != 0 || (args.directory.empty() && !args.live)) return status;
  }
  const auto plan = plan_of(args, scenario->plan);
  if (!plan) return complain(plan.error());
  const auto made = rehearse::rehearse(scenario->model, scenario->kit, *plan, args.seed);
  if (!made) return complain(made.error());
  if (args.directory.empty()) return played(*made, args);
  rehearsal::WriteOptions options;
  options.truth = args.truth;
  options.seed = args.seed;
  const auto written = rehearsal::write_burn(args.directory, *made, options);
  if (!written) return complain(written.error());
  print_made(*made, args);
  return args.live ? played(*made, args) : 0;
}

}  // namespace

Command rehearse_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd =
      cli.add_subcommand("rehearse", "A made-up burn on a pit, for practice, demos and tests");
  cmd->add_option("pit", args->pit,
                  "A pit.toml, a directory that holds one, or a built-in pit such as long-barrel");
  cmd->add_option("-o,--output", args->directory, "Directory to write the burn to");
  cmd->add_option("--plan", args->plan, "Settings in order, such as \"A B B A\"");
  cmd->add_option("--dwell", args->dwell, "Length of each stint, such as 35min");
  cmd->add_option("--lead", args->lead, "Time recorded before the first stint");
  cmd->add_option("--start", args->start, "soaked or cold");
  cmd->add_option("--seed", args->seed, "Which day: the same seed makes the same burn");
  cmd->add_flag("--truth", args->truth, "Write truth.json too");
  cmd->add_option("--pit-file", args->pit_file, "Write the pit itself, [rehearse] table and all");
  cmd->add_flag("--live", args->live, "Send its readings to a broker, row by row as they come");
  cmd->add_option("--speed", args->play.speed, "With --live: how many times as fast as life");
  cmd->add_option("--mqtt", args->play.where, "With --live: mqtt://127.0.0.1:1883/topic");
  cmd->add_flag("--list", args->list, "Show the built-in pits");
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
