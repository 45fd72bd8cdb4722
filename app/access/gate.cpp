#include "access/gate.h"

#include <algorithm>

#include "access/tokens.h"

namespace pitwright::access {
namespace {

constexpr std::string_view cookie_name = "pitwright";
constexpr std::size_t most_addresses = 10000;

/// A Host header's name without its port: "[::1]:80" is "[::1]".
std::string_view host_name(std::string_view host) {
  const auto end_of_ip6 = host.rfind(']');
  const auto colon = host.find(':', end_of_ip6 == std::string_view::npos ? 0 : end_of_ip6);
  return host.substr(0, colon);
}

bool changes_something(const wire::Request& request) {
  return request.method != "GET" && request.method != "HEAD";
}

std::string token_of_cookie(std::string_view header) {
  while (!header.empty()) {
    auto one = header.substr(0, header.find(';'));
    header.remove_prefix(std::min(header.size(), one.size() + 1));
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    if (one.substr(0, cookie_name.size()) == cookie_name &&
        one.substr(cookie_name.size(), 1) == "=")
      return std::string(one.substr(cookie_name.size() + 1));
  }
  return {};
}

std::string token_of(const wire::Request& request) {
  const auto authorization = wire::header_value(request, "authorization");
  constexpr std::string_view bearer = "Bearer ";
  if (authorization.starts_with(bearer)) return std::string(authorization.substr(bearer.size()));
  return token_of_cookie(wire::header_value(request, "cookie"));
}

const Turned too_many{429, "too many wrong tokens from this address; wait a minute"};
const Turned no_token{
    401, "this server asks for a token; its owner makes one with `pitwright serve --invite NAME`"};
const Turned wrong_token{401, "that token is not known here"};

}  // namespace

std::optional<Turned> Gate::wrong_place(const wire::Request& request) const {
  const auto host = wire::header_value(request, "host");
  if (std::ranges::find(options_.hosts, host_name(host)) == options_.hosts.end())
    return Turned{
        400,
        fmt::format("this server does not go by the name '{}'; start it with --name to allow that",
                    host_name(host))};
  if (!changes_something(request)) return std::nullopt;
  const auto origin = wire::header_value(request, "origin");
  if (!origin.empty() && origin != fmt::format("http://{}", host) &&
      origin != fmt::format("https://{}", host))
    return Turned{403, "a page of another origin may not change anything here"};
  return std::nullopt;
}

std::optional<Visitor> Gate::owner_of(std::string_view token) const {
  const auto digest = digest_of(token);
  std::optional<Visitor> found;
  for (const auto& person : options_.people)  // all of them, so that time tells nothing
    if (is_same(person.digest, digest)) found = Visitor{person.name, person.role};
  return found;
}

bool Gate::is_barred(const std::string& peer, Clock::time_point now) {
  const std::lock_guard lock(mutex_);
  const auto found = tries_.find(peer);
  if (found == tries_.end()) return false;
  if (now - found->second.since >= std::chrono::minutes(1)) {
    tries_.erase(found);
    return false;
  }
  return found->second.wrong >= options_.tries_a_minute;
}

void Gate::count_wrong(const std::string& peer, Clock::time_point now) {
  const std::lock_guard lock(mutex_);
  if (tries_.size() >= most_addresses)
    std::erase_if(
        tries_, [&](const auto& one) { return now - one.second.since >= std::chrono::minutes(1); });
  if (tries_.size() >= most_addresses) tries_.clear();
  auto& tries = tries_.try_emplace(peer, Tries{now, 0}).first->second;
  ++tries.wrong;
}

std::variant<Visitor, Turned> Gate::enter(const std::string& token, const std::string& peer,
                                          Clock::time_point now) {
  if (is_open()) return Visitor{"here", Role::own};
  // The right token always opens: behind a proxy, or in one house, many share an address.
  if (auto visitor = owner_of(token)) return *visitor;
  if (is_barred(peer, now)) return too_many;
  count_wrong(peer, now);
  return wrong_token;
}

std::variant<Visitor, Turned> Gate::visitor(const wire::Request& request, Clock::time_point now) {
  if (auto turned = wrong_place(request)) return *turned;
  if (is_open()) return Visitor{"here", Role::own};
  const auto token = token_of(request);
  if (token.empty()) return no_token;
  return enter(token, request.peer, now);
}

std::string cookie_for(const std::string& token, bool over_tls) {
  const auto life = token.empty() ? "Max-Age=0" : "Max-Age=7776000";  // 90 days
  return fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict; {}{}", cookie_name, token, life,
                     over_tls ? "; Secure" : "");
}

}  // namespace pitwright::access
