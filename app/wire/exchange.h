#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace pitwright::wire {

/// One thing that was asked, free of the library that read it.
struct Request {
  std::string method;                             ///< "GET", "POST", … as sent
  std::string path;                               ///< decoded, without the query
  std::multimap<std::string, std::string> query;  ///< decoded
  std::map<std::string, std::string> headers;  ///< names in lower case; of a repeated one the last
  std::string body;
  std::string peer;  ///< address of the other side, without the port
};

/// First value of a query parameter, if it was given.
std::optional<std::string> query_value(const Request& request, std::string_view name);

/// A header by its lower-case name; empty if absent.
std::string_view header_value(const Request& request, const std::string& name);

/// One answer that ends.
struct Response {
  int status = 200;
  std::string type = "application/json";
  std::string body;
  std::vector<std::pair<std::string, std::string>> headers;
};

/// An answer that goes on: server-sent events of one topic (HTML Living Standard, section 9.2).
struct Subscription {
  std::string topic;
  std::optional<std::uint64_t>
      after;  ///< what the viewer saw last; the events since then come first
  std::vector<std::pair<std::string, std::string>> headers;
};

using Answer = std::variant<Response, Subscription>;

/// What answers. It may be called from the server's own thread and from its one worker thread at
/// the same time; it must not throw for anything that a request can hold.
struct Handler {
  std::function<Answer(const Request&)> answer;
  std::function<bool(const Request&)> is_slow;  ///< true: the worker thread answers
  /// What to send where no handler was reached: a request that is malformed (400), too large (413)
  /// or one too many (503).
  std::function<Response(int status)> refusal;
};

}  // namespace pitwright::wire
