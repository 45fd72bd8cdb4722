#include "cli/cmd_serve.h"

#include <cstdint>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include <fmt/core.h>
#include <pthread.h>
#include <signal.h>

#include "access/people.h"
#include "serving/serve.h"

namespace pitwright::cli {
namespace {

struct Args {
  std::string database;
  std::string host = "127.0.0.1";
  int port = 7707;
  std::string people;
  std::string invite;
  std::string role = "tap";
  std::vector<std::string> names;
  bool behind_tls = false;
};

Result<access::Role> role_of(const std::string& name) {
  for (const auto role : {access::Role::look, access::Role::tap, access::Role::own})
    if (name == access::name_of(role)) return role;
  return fail(ErrorKind::bad_input, "--role is look, tap or own, not '{}'", name);
}

int invite(const Args& args) {
  if (args.people.empty())
    return complain({ErrorKind::bad_input, "--invite needs --people FILE, where people are kept"});
  const auto role = role_of(args.role);
  if (!role) return complain(role.error());
  const auto token = access::invite(args.people, args.invite, *role);
  if (!token) return complain(token.error());
  fmt::print("{}\n", *token);
  fmt::print(stderr,
             "That is {}'s token, shown this once; it may {}. A server that runs reads {} when it "
             "starts again.\n",
             args.invite, args.role, args.people);
  return 0;
}

/// SIGINT and SIGTERM as a wait of one thread; made before any other thread, which then inherit the
/// block.
sigset_t block_ends() {
  sigset_t ends;
  ::sigemptyset(&ends);
  ::sigaddset(&ends, SIGINT);
  ::sigaddset(&ends, SIGTERM);
  ::pthread_sigmask(SIG_BLOCK, &ends, nullptr);
  return ends;
}

int run(const Args& args) {
  if (!args.invite.empty()) return invite(args);
  if (args.port < 0 || args.port > 65535)
    return complain({ErrorKind::bad_input, "--port is 0 to 65535"});
  serving::ServeOptions options;
  options.database = args.database;
  options.host = args.host;
  options.port = static_cast<std::uint16_t>(args.port);
  options.names = args.names;
  if (!args.people.empty()) options.people = args.people;
  options.behind_tls = args.behind_tls;
  const auto ends = block_ends();
  std::thread waiting;
  const auto served = serving::serve(options, [&](std::uint16_t port, std::function<void()> stop) {
    fmt::print("pitwright is at http://{}:{}/  (stop it with Ctrl-C)\n",
               args.host == "0.0.0.0" ? "127.0.0.1" : args.host, port);
    if (args.host == "0.0.0.0" && args.names.empty())
      fmt::print(
          "From other machines it is asked for by this machine's name or address: start it with "
          "--name NAME.\n");
    std::fflush(stdout);
    waiting = std::thread([ends, stop = std::move(stop)] {
      int which = 0;
      ::sigwait(&ends, &which);
      stop();
    });
  });
  if (waiting.joinable()) waiting.join();
  if (!served) return complain(served.error());
  return 0;
}

}  // namespace

Command serve_command(CLI::App& cli) {
  auto args = std::make_shared<Args>();
  auto* cmd = cli.add_subcommand("serve", "The web app and the API");
  cmd->add_option("--database", args->database,
                  "the store; else PITWRIGHT_DATABASE, else the usual place");
  cmd->add_option("--host", args->host, "address to listen on; 0.0.0.0 is every network");
  cmd->add_option("--port", args->port, "0: any that is free");
  cmd->add_option("--people", args->people,
                  "who may come in from other machines (needed beyond this one)");
  cmd->add_option("--invite", args->invite, "add a person to --people and print their token");
  cmd->add_option("--role", args->role, "of the one invited: look, tap or own");
  cmd->add_option("--name", args->names,
                  "a further name by which browsers may ask for this server");
  cmd->add_flag("--behind-tls", args->behind_tls,
                "something in front speaks TLS: mark cookies secure");
  return {cmd, [args] { return run(*args); }};
}

}  // namespace pitwright::cli
