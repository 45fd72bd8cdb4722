#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "access/people.h"
#include "wire/exchange.h"

namespace pitwright::access {
struct Visitor;
}

namespace pitwright::http {

struct Desk;

/// One request on its way to a resource: who asks, and what the path names ("burn" ->
/// "2026-05-02").
struct Asked {
  const wire::Request& request;
  const std::map<std::string, std::string>& names;
  const access::Visitor& visitor;
  Desk& desk;
};

using Resource = wire::Answer (*)(const Asked&);

/// What one method does at one path. In the pattern, {name} stands for one part of the path.
struct Route {
  std::string_view method;
  std::string_view pattern;
  access::Role role;
  bool is_slow;
  Resource resource;
};

struct Found {
  const Route* route = nullptr;              ///< nullptr: no such path, or no such method there
  std::map<std::string, std::string> names;  ///< what {…} stood for
  std::string allowed;  ///< methods the path knows, "GET, POST"; empty: no such path
};

/// The route for a request; HEAD goes where GET goes.
Found find_route(std::span<const Route> routes, std::string_view method, std::string_view path);

}  // namespace pitwright::http
