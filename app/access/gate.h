#pragma once

#include <chrono>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "access/people.h"
#include "wire/exchange.h"

namespace pitwright::access {

/// Who asks.
struct Visitor {
  std::string name;
  Role role = Role::look;
};

/// Why somebody is not let in.
struct Turned {
  int status;        ///< 400 (wrong host), 401, 403 or 429
  std::string text;  ///< what to do
};

struct GateOptions {
  std::vector<Person> people;      ///< empty: everybody who reaches this server owns it
  std::vector<std::string> hosts;  ///< names by which the server may be asked for, without the port
  int tries_a_minute = 10;         ///< wrong tokens from one address
};

/// Lets people in. May be used from two threads at once.
///
/// A request must ask for one of the server's own names (DNS rebinding); one that changes something
/// must come from a page of the same origin, or from no page at all (cross-site requests). Tokens
/// come as `Authorization: Bearer` (RFC 6750) or as the cookie that the page /api/enter sets.
class Gate {
 public:
  using Clock = std::chrono::steady_clock;

  explicit Gate(GateOptions options) : options_(std::move(options)) {}

  /// Host and origin only: for what everybody may see, such as the page that asks for a token.
  std::optional<Turned> wrong_place(const wire::Request& request) const;

  /// Who asks, or why they are turned away.
  std::variant<Visitor, Turned> visitor(const wire::Request& request, Clock::time_point now);

  /// Somebody hands in a token; counted against the address if it is wrong.
  std::variant<Visitor, Turned> enter(const std::string& token, const std::string& peer,
                                      Clock::time_point now);

  bool is_open() const { return options_.people.empty(); }

 private:
  struct Tries {
    Clock::time_point since;
    int wrong = 0;
  };
  std::optional<Visitor> owner_of(std::string_view token) const;
  bool is_barred(const std::string& peer, Clock::time_point now);
  void count_wrong(const std::string& peer, Clock::time_point now);

  GateOptions options_;
  std::mutex mutex_;
  std::map<std::string, Tries> tries_;  ///< guarded; bounded
};

/// The cookie that carries a token to pages and event streams; an empty token drops it.
std::string cookie_for(const std::string& token, bool over_tls);

}  // namespace pitwright::access
