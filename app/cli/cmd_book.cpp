#include "cli/cmd_book.h"

#include <chrono>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "book/book.h"
#include "book/entries.h"
#include "cli/burn_options.h"
#include "cli/store_options.h"
#include "keeping/burn_of.h"
#include "units/parse.h"

namespace pitwright::cli {
namespace {

constexpr std::string_view in_store = "store:";

struct Args {
  std::string burn, unit, cold;
  StoreOptions store;
  book::Writing writing;
  bool json = false, csv = false, rules = false;
};

/// A burn and, where it is in the store, what was told of it.
struct Opened {
  burns::OpenBurn open;
  std::optional<book::Told> told;
};

Result<void> check(const Args& args) {
  const auto bad = ErrorKind::bad_input;
  if (args.burn.empty()) return fail(bad, "say which burn: a directory, a burn.toml or store:NAME");
  if (args.json && args.csv) return fail(bad, "choose one of --json and --csv");
  if (!args.burn.starts_with(in_store) && !(args.writing.is_empty() && args.cold.empty())) {
    return fail(bad,
                "entries go into the store; 'pitwright keep {}' puts the burn there, then "
                "'pitwright book store:NAME' takes them (a burn.toml has by and action at its "
                "[[piece]])",
                args.burn);
  }
  return {};
}

/// Writes what is asked for, then reads the burn as it is now.
Result<Opened> open_in_store(const Args& args) {
  const auto store = args.store.open({.make = false});
  if (!store) return std::unexpected(store.error());
  const auto line = (*store)->find(args.burn.substr(in_store.size()));
  if (!line) return std::unexpected(line.error());
  auto open = keeping::burn_of(**store, line->id);
  if (!open) return std::unexpected(open.error());
  auto writing = args.writing;
  if (!args.cold.empty()) {
    const auto cold = parse_temperature(args.cold, open->burn.scale);
    if (!cold) return std::unexpected(cold.error());
    writing.reading = *cold;
  }
  if (!writing.sign.empty()) {  // nobody signs what cannot be shown
    const auto before = book::told_of(**store, line->id);
    if (!before) return std::unexpected(before.error());
    const auto shown = book::make_book(*open, *before, open->burn.scale);
    if (!shown) return std::unexpected(shown.error());
  }
  if (!writing.is_empty()) {
    std::vector<std::string> names;
    for (const auto& piece : open->burn.pieces) names.push_back(piece.name);
    const auto now =
        std::chrono::floor<std::chrono::microseconds>(std::chrono::system_clock::now());
    const auto written = book::write_entries(**store, line->id, {&writing, 1}, names, now);
    if (!written) return std::unexpected(written.error());
  }
  auto told = book::told_of(**store, line->id);
  if (!told) return std::unexpected(told.error());
  return Opened{*std::move(open), *std::move(told)};
}

Result<Opened> opened(const Args& args) {
  if (args.burn.starts_with(in_store)) return open_in_store(args);
  auto open = keeping::open_burn(args.burn);
  if (!open) return std::unexpected(open.error());
  return Opened{*std::move(open), std::nullopt};
}

int run(const Args& args) {
  if (args.rules) {
    fmt::print("{}", book::rules_text());
    return 0;
  }
  if (const auto fine = check(args); !fine) return complain(fine.error());
  if (const auto scale = scale_of(args.unit, Scale::fahrenheit); !scale)
    return complain(scale.error());
  auto burn = opened(args);
  if (!burn) return complain(burn.error());
  name_burn(burn->open);
  const auto scale = scale_of(args.unit, burn->open.burn.scale);
  const auto made = book::make_book(burn->open, burn->told, *scale);
  if (!made) return complain(made.error());
  fmt::print("{}", args.json  ? book::book_json(*made)
                   : args.csv ? book::book_csv(*made)
                              : book::book_text(*made));
  return 0;
}

void declare_entries(CLI::App& cmd, book::Writing& writing, std::string& cold) {
  const std::string group = "Entries (store:NAME only; each is added, none is ever changed)";
  cmd.add_option("--sign", writing.sign, "INITIALS under the record")->group(group);
  cmd.add_option("--action", writing.action, "TEXT: what was done")->group(group);
  cmd.add_option("--rule", writing.rule, "the rules chosen for --piece (see --rules)")
      ->group(group);
  cmd.add_option("--cold", cold, "a temperature written down, such as \"38 F\" on receiving")
      ->group(group);
  cmd.add_option("--piece", writing.piece, "NAME of the piece; else all")->group(group);
  cmd.add_option("--by", writing.by, "INITIALS of who writes; else those of --sign")->group(group);
  cmd.add_option("--text", writing.text, "a remark beside --cold or --sign")->group(group);
  cmd.add_option("--corrects", writing.corrects, "NUMBER of the entry that the new one replaces")
      ->group(group);
  cmd.add_option("--take-back", writing.take_back, "NUMBER of an entry that was wrong")
      ->group(group);
  cmd.add_option("--why", writing.why, "TEXT: why it is taken back")->group(group);
}

}  // namespace

Command book_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("book", "The record of every piece of food: rule and margin");
  cmd->add_option(
      "BURN", args->burn,
      "directory with a burn.toml, or the file itself; store:NAME for one in the store");
  cmd->add_flag("--json", args->json, "one JSON document (docs/reference/book.md)");
  cmd->add_flag("--csv", args->csv, "one line a figure");
  cmd->add_option("--unit", args->unit, "F or C; else the burn's own");
  cmd->add_flag("--rules", args->rules, "the rules one may choose, with their sources");
  args->store.declare(*cmd);
  declare_entries(*cmd, args->writing, args->cold);
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
