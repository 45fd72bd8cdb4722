#include "serving/serve.h"

#include <algorithm>
#include <chrono>
#include <memory>

#include "access/gate.h"
#include "access/people.h"
#include "db/store.h"
#include "http/site.h"
#include "live/watch.h"
#include "live/worked.h"
#include "resources/resources.h"
#include "serving/metrics.h"
#include "web_assets/assets.h"
#include "wire/server.h"

namespace pitwright::serving {
namespace {

constexpr int play_ms = 250;  ///< between two steps of a practice burn
constexpr int look_ms = 50;   ///< between two looks into the store: what a viewer may wait at most

bool is_this_machine(const std::string& host) {
  return host.starts_with("127.") || host == "::1";
}

db::Stamp wall_clock() {
  return std::chrono::floor<std::chrono::microseconds>(std::chrono::system_clock::now());
}

/// One thread's way into the store, and what it has worked out.
struct OwnDesk {
  std::unique_ptr<db::Store> store;
  live::Worked worked;
  http::Desk desk;

  OwnDesk(std::unique_ptr<db::Store> opened, live::Demo& demo)
      : store(std::move(opened)), worked(*store), desk{*store, worked, demo, wall_clock} {}
};

Result<std::unique_ptr<OwnDesk>> open_desk(const std::string& place, live::Demo& demo) {
  auto store = db::open_store(place);
  if (!store) return std::unexpected(store.error());
  return std::make_unique<OwnDesk>(std::move(*store), demo);
}

Result<access::GateOptions> gate_options(const ServeOptions& options) {
  access::GateOptions gate;
  gate.hosts = options.names;
  for (const char* name : {"localhost", "127.0.0.1", "[::1]"}) gate.hosts.emplace_back(name);
  if (!is_this_machine(options.host))
    gate.hosts.push_back(options.host.find(':') == std::string::npos ? options.host
                                                                     : "[" + options.host + "]");
  if (options.people) {
    auto people = access::read_people(*options.people);
    if (!people) return std::unexpected(people.error());
    if (people->empty())
      return fail(ErrorKind::bad_input, "{} names nobody; add people with --invite NAME",
                  options.people->string());
    gate.people = std::move(*people);
  } else if (!is_this_machine(options.host)) {
    return fail(ErrorKind::bad_input,
                "others could reach {}; say who may with --people FILE (add people to it with "
                "--invite NAME), or leave --host out",
                options.host);
  }
  return gate;
}

}  // namespace

Result<void> serve(
    const ServeOptions& options,
    const std::function<void(std::uint16_t port, std::function<void()> stop)>& started) {
  const auto place = db::store_place(options.database);
  if (!place) return std::unexpected(place.error());
  auto gate_made = gate_options(options);
  if (!gate_made) return std::unexpected(gate_made.error());
  access::Gate gate(std::move(*gate_made));
  live::Demo demo;
  const auto quick = open_desk(*place, demo);
  if (!quick) return std::unexpected(quick.error());
  const auto slow = open_desk(*place, demo);
  if (!slow) return std::unexpected(slow.error());

  wire::Server* running = nullptr;
  live::Watch watch(*(*quick)->store, (*slow)->worked,
                    {[&](std::function<void()> work) { running->post_slow(std::move(work)); },
                     [&](std::function<void(wire::Hub&)> work) { running->post(std::move(work)); }},
                    wall_clock);
  const http::Site site({resources::all_routes(), web_assets::all(), (*quick)->desk, (*slow)->desk,
                         gate, PITWRIGHT_VERSION,
                         [&] { return metrics_text(running->counts(), watch.trouble().empty()); },
                         options.behind_tls});
  wire::ServerOptions server_options;
  server_options.host = options.host;
  server_options.port = options.port;
  auto server = wire::Server::listen(server_options, site.handler());
  if (!server) return std::unexpected(server.error());
  running = server->get();
  running->every(look_ms, [&](wire::Hub& hub) { watch.look(hub); });
  running->every(play_ms, [&](wire::Hub&) {
    // What could not be written is tried again, and the store's trouble is told by whoever looks.
    (void)demo.play(*(*quick)->store, wall_clock());
  });
  started(running->port(), [running] { running->stop(); });
  running->run();
  return {};
}

}  // namespace pitwright::serving
