#include <cstdio>
#include <exception>

#include <fmt/core.h>

#include "cli/commands.h"

int main(int argc, char** argv) try {
  CLI::App app("Knows a live-fire cooker: reads its logs and says what each setting really did.",
               "pitwright");
  app.require_subcommand(1);
  const auto commands = pitwright::cli::all_commands(app);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    const int status = app.exit(error);  // prints help or the mistake
    return status == 0 ? 0 : 2;
  }
  for (const auto& command : commands) {
    if (command.parsed->parsed()) return command.run();
  }
  return 1;
} catch (const std::exception& error) {  // a bug of ours, or a library's surprise
  fmt::print(stderr, "pitwright: internal error: {}\n", error.what());
  return 70;
}
