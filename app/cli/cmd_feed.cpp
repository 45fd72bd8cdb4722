#include "cli/cmd_feed.h"

#include <atomic>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string>

#include <fmt/chrono.h>
#include <fmt/core.h>
#include <unistd.h>

#include "db/store.h"
#include "feeds/feed_document.h"
#include "running/run_feed.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string file;
  std::string burn;
  std::string database;
  bool check = false;
};

std::atomic<bool> told_to_stop = false;  // what a signal can set
static_assert(std::atomic<bool>::is_always_lock_free);

void stop_on_signals() {
  struct sigaction action {};
  action.sa_handler = [](int) { told_to_stop = true; };
  sigemptyset(&action.sa_mask);
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
  std::signal(SIGPIPE, SIG_IGN);
}

/// Where sources remember what they must: beside a database that is a file, else in the person's
/// state folder.
std::filesystem::path memory_of(const std::string& place, const std::string& burn) {
  if (!place.contains("://")) return std::filesystem::path(place + ".feed") / burn;
  const char* const state = std::getenv("XDG_STATE_HOME");
  const char* const home = std::getenv("HOME");
  if (state != nullptr && *state != '\0') {
    return std::filesystem::path(state) / "pitwright" / "feed" / burn;
  }
  return std::filesystem::path(home == nullptr ? "." : home) / ".local/state/pitwright/feed" / burn;
}

/// The burn of that name; lit now where there is none yet.
Result<db::BurnLine> burn_of(db::Store& store, const Args& args,
                             const feed::FeedDocument& document) {
  auto found = store.find(args.burn);
  if (found || found.error().kind != ErrorKind::not_found) return found;
  db::NewBurn burn;
  burn.name = args.burn;
  burn.scale = document.unit == logs::ChannelUnit::celsius ? Scale::celsius : Scale::fahrenheit;
  burn.timezone = document.timezone;
  burn.lit = std::chrono::floor<std::chrono::microseconds>(std::chrono::system_clock::now());
  const auto lit = store.light(burn);
  if (!lit) return std::unexpected(lit.error());
  fmt::print("{}: a new burn\n", args.burn);
  std::fflush(stdout);
  return store.burn(*lit);
}

void say(const std::string& line) {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  fmt::print("{:%H:%M:%S} {}\n", local, line);
  std::fflush(stdout);
}

int run(const Args& args) {
  const auto document = feed::read_feed(args.file);
  if (!document) return complain(document.error());
  if (args.check) {
    fmt::print("{}: in order\n", args.file);
    return 0;
  }
  if (args.burn.empty()) {
    return complain(
        {ErrorKind::bad_input, "feed needs --burn NAME: the burn that the readings are of"});
  }
  const auto place = db::store_place(args.database);
  if (!place) return complain(place.error());
  const auto store = db::open_store(*place);
  if (!store) return complain(store.error());
  const auto burn = burn_of(**store, args, *document);
  if (!burn) return complain(burn.error());
  if (burn->state == db::BurnState::kept) {
    return complain({ErrorKind::conflict,
                     fmt::format("'{}' is a kept burn; it takes no readings", burn->name)});
  }
  stop_on_signals();
  feed::Running running;
  running.burn = burn->id;
  running.memory = memory_of(*place, fmt::format("{}", static_cast<std::int64_t>(burn->id)));
  running.stop = &told_to_stop;
  running.say = say;
  running.terminal = STDIN_FILENO;
  const auto report = feed::run_feed(*document, **store, running);
  if (!report) return report.error().kind == ErrorKind::bad_input ? 2 : 1;  // was said
  say(fmt::format("ended: {} stored, {} there already", report->taken.stored, report->taken.again));
  return 0;
}

}  // namespace

Command feed_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("feed", "Live sources into the store, until Ctrl-C");
  cmd->add_option("FEED", args->file, "a feed.toml (docs/reference/feed.md)")->required();
  cmd->add_option("--burn", args->burn, "the burn that the readings are of; lit where it is new");
  cmd->add_option("--database", args->database,
                  "the store; else PITWRIGHT_DATABASE, else the usual place");
  cmd->add_flag("--check", args->check, "only read FEED and say what is wrong with it");
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
