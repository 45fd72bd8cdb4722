#include "http/routes.h"

#include <algorithm>
#include <optional>

namespace pitwright::http {
namespace {

/// Cuts the first part off a path: "/a/b" gives "a" and leaves "/b".
std::string_view next_part(std::string_view& path) {
  path.remove_prefix(1);
  const auto part = path.substr(0, path.find('/'));
  path.remove_prefix(part.size());
  return part;
}

std::optional<std::map<std::string, std::string>> matched(std::string_view pattern,
                                                          std::string_view path) {
  std::map<std::string, std::string> names;
  while (!pattern.empty() && !path.empty()) {
    const auto expected = next_part(pattern);
    const auto part = next_part(path);
    if (expected.starts_with('{')) {
      if (part.empty()) return std::nullopt;
      names.emplace(expected.substr(1, expected.size() - 2), part);
    } else if (expected != part) {
      return std::nullopt;
    }
  }
  if (!pattern.empty() || !path.empty()) return std::nullopt;
  return names;
}

}  // namespace

Found find_route(std::span<const Route> routes, std::string_view method, std::string_view path) {
  const auto asked = method == "HEAD" ? std::string_view("GET") : method;
  Found found;
  for (const auto& route : routes) {
    auto names = matched(route.pattern, path);
    if (!names) continue;
    found.allowed += (found.allowed.empty() ? "" : ", ") + std::string(route.method);
    if (route.method != asked || found.route) continue;
    found.route = &route;
    found.names = std::move(*names);
  }
  return found;
}

}  // namespace pitwright::http
