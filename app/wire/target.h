#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace pitwright::wire {

/// A request target taken apart.
struct Target {
  std::string path;
  std::multimap<std::string, std::string> query;
};

/// Path and query of an origin-form target (RFC 9112 section 3.2.1), percent-decoded (RFC 3986
/// section 2.1); '+' is a blank in the query. Nothing where it is malformed: a bad escape, no
/// leading
/// '/', a NUL or another control character.
std::optional<Target> read_target(std::string_view text);

}  // namespace pitwright::wire
