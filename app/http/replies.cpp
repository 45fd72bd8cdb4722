#include "http/replies.h"

#include <algorithm>
#include <array>
#include <utility>

#include <nlohmann/json.hpp>

namespace pitwright::http {
namespace {

using Header = std::pair<std::string, std::string>;

const std::array<Header, 6> guards = {
    Header{"Content-Security-Policy",
           "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
           "connect-src 'self'; "
           "manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'self'; "
           "frame-ancestors 'none'"},
    Header{"X-Content-Type-Options", "nosniff"},
    Header{"Referrer-Policy", "no-referrer"},
    Header{"Cross-Origin-Opener-Policy", "same-origin"},
    Header{"Cross-Origin-Resource-Policy", "same-origin"},
    Header{"Permissions-Policy", "camera=(), geolocation=(), microphone=(), payment=()"}};

void add_guards(std::vector<Header>& headers) {
  const auto has = [&](std::string_view name) {
    return std::ranges::any_of(headers, [&](const Header& one) { return one.first == name; });
  };
  for (const auto& guard : guards)
    if (!has(guard.first)) headers.push_back(guard);
  if (!has("Cache-Control")) headers.emplace_back("Cache-Control", "no-store");
}

std::string_view kind_of(int status) {
  switch (status) {
    case 400:
    case 409:
    case 415:
    case 422:
      return "bad_input";
    case 404:
    case 405:
      return "not_found";
    case 401:
    case 403:
      return "not_allowed";
    case 413:
    case 431:
      return "too_large";
    case 429:
      return "too_many";
    case 503:
      return "busy";
    default:
      return "store";
  }
}

int status_of(ErrorKind kind) {
  switch (kind) {
    case ErrorKind::bad_input:
      return 400;
    case ErrorKind::not_found:
      return 404;
    case ErrorKind::conflict:
      return 409;
    case ErrorKind::unavailable:
      return 507;
  }
  std::unreachable();
}

}  // namespace

wire::Response json_reply(std::string json, int status) {
  return {status, "application/json", std::move(json), {}};
}

wire::Response trouble(int status, std::string_view text) {
  const nlohmann::ordered_json all = {
      {"error", {{"kind", std::string(kind_of(status))}, {"text", std::string(text)}}}};
  // A name from a request may hold bytes that are no UTF-8.
  return json_reply(all.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace),
                    status);
}

wire::Response trouble(const Error& error) {
  return trouble(status_of(error.kind), error.what);
}

void secure(wire::Response& response) {
  add_guards(response.headers);
}

void secure(wire::Subscription& subscription) {
  add_guards(subscription.headers);
}

}  // namespace pitwright::http
