#include "http/site.h"

#include <algorithm>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/expects.h"
#include "http/body.h"
#include "http/replies.h"

namespace pitwright::http {
namespace {

using access::Turned;
using access::Visitor;

wire::Response turned_away(const Turned& turned) {
  auto reply = trouble(turned.status, turned.text);
  if (turned.status == 401) reply.headers.emplace_back("WWW-Authenticate", "Bearer");
  return reply;
}

wire::Response me(const Visitor& visitor) {
  const nlohmann::ordered_json all = {{"name", visitor.name},
                                      {"role", std::string(name_of(visitor.role))}};
  return json_reply(all.dump());
}

}  // namespace

wire::Response Site::health() const {
  const auto burns = options_.quick.store.burns();
  if (!burns) return trouble(burns.error());
  return json_reply(fmt::format("{{\"status\":\"ok\",\"version\":\"{}\",\"burns\":{}}}",
                                options_.version, burns->size()));
}

wire::Response Site::enter(const wire::Request& request) const {
  auto body = Body::object(request.body);
  if (!body) return trouble(body.error());
  body->require("token");
  const auto token = body->text("token").value_or("");
  if (const auto finished = body->finish(); !finished) return trouble(finished.error());
  const auto visitor = options_.gate.enter(token, request.peer, access::Gate::Clock::now());
  if (const auto* turned = std::get_if<Turned>(&visitor)) return turned_away(*turned);
  auto reply = me(std::get<Visitor>(visitor));
  reply.headers.emplace_back("Set-Cookie", access::cookie_for(token, options_.over_tls));
  return reply;
}

wire::Response Site::asset(const wire::Request& request) const {
  if (request.method != "GET" && request.method != "HEAD")
    return trouble(405, "there is nothing to change here");
  // Screens have paths of their own; all of them are the one page.
  const auto dot = request.path.rfind('.');
  const bool is_file = dot != std::string::npos && request.path.find('/', dot) == std::string::npos;
  const std::string_view path = is_file ? std::string_view(request.path) : "/index.html";
  const auto found = std::ranges::find(options_.assets, path, &Asset::path);
  if (options_.assets.empty())
    return trouble(404,
                   "this pitwright was built without its web app (npm and Node.js were missing); "
                   "the API answers under /api/");
  if (found == options_.assets.end()) return trouble(404, "there is no such page");
  const auto keep = found->is_immutable ? "public, max-age=31536000, immutable" : "no-cache";
  if (wire::header_value(request, "if-none-match") == found->etag)
    return {304, "", "", {{"ETag", std::string(found->etag)}, {"Cache-Control", keep}}};
  return {200,
          std::string(found->type),
          std::string(found->bytes),
          {{"Content-Encoding", "gzip"},
           {"ETag", std::string(found->etag)},
           {"Cache-Control", keep},
           {"Vary", "Accept-Encoding"}}};
}

wire::Answer Site::api(const wire::Request& request) const {
  const auto visitor = options_.gate.visitor(request, access::Gate::Clock::now());
  if (const auto* turned = std::get_if<Turned>(&visitor)) return turned_away(*turned);
  const auto& who = std::get<Visitor>(visitor);
  if (request.path == "/metrics" && request.method == "GET")
    return wire::Response{
        200, "application/openmetrics-text; version=1.0.0; charset=utf-8", options_.metrics(), {}};
  if (request.path == "/api/me" && request.method == "GET") return me(who);
  const auto found = find_route(options_.routes, request.method, request.path);
  if (found.route == nullptr) {
    if (found.allowed.empty()) return trouble(404, "there is nothing at this path");
    auto reply = trouble(405, fmt::format("this path knows {}", found.allowed));
    reply.headers.emplace_back("Allow", found.allowed);
    return reply;
  }
  if (who.role < found.route->role)
    return trouble(403, fmt::format("{} may {}; this needs \"{}\"", who.name, name_of(who.role),
                                    name_of(found.route->role)));
  auto& desk = found.route->is_slow ? options_.slow : options_.quick;
  return found.route->resource({request, found.names, who, desk});
}

wire::Answer Site::guarded(const wire::Request& request) const {
  if (request.path == "/api/health" && request.method == "GET") {
    if (const auto turned = options_.gate.wrong_place(request)) return turned_away(*turned);
    return health();
  }
  if (request.path.starts_with("/api/") || request.path == "/metrics") {
    if (request.path == "/api/enter" || request.path == "/api/leave") {
      if (const auto turned = options_.gate.wrong_place(request)) return turned_away(*turned);
      if (request.method != "POST") return trouble(405, "this path knows POST");
      if (request.path == "/api/enter") return enter(request);
      return wire::Response{
          204, "", "", {{"Set-Cookie", access::cookie_for("", options_.over_tls)}}};
    }
    return api(request);
  }
  if (const auto turned = options_.gate.wrong_place(request)) return turned_away(*turned);
  return asset(request);
}

wire::Answer Site::answer(const wire::Request& request) const {
  wire::Answer answer;
  try {
    answer = guarded(request);
  } catch (const std::exception&
               mistake) {  // a broken promise of our own costs this request, not the fire
    fmt::print(stderr, "pitwright: {} {}: {}\n", request.method, request.path, mistake.what());
    answer = trouble(500, "pitwright made a mistake here; the rest goes on");
  }
  std::visit([](auto& one) { secure(one); }, answer);
  return answer;
}

bool Site::is_slow(const wire::Request& request) const {
  const auto found = find_route(options_.routes, request.method, request.path);
  return found.route != nullptr && found.route->is_slow;
}

wire::Handler Site::handler() const {
  return {[this](const wire::Request& request) { return answer(request); },
          [this](const wire::Request& request) { return is_slow(request); },
          [](int status) {
            auto reply = trouble(status, status == 503   ? "too many connections; try again later"
                                         : status == 413 ? "the body is too large"
                                         : status == 431 ? "the header is too large"
                                                         : "this is no request that can be read");
            secure(reply);
            return reply;
          }};
}

}  // namespace pitwright::http
