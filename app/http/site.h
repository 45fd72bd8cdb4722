#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <map>
#include <span>
#include <string>
#include <string_view>

#include "access/gate.h"
#include "http/desk.h"
#include "http/routes.h"
#include "wire/exchange.h"

namespace pitwright::http {

/// One file of the web app, built into the program.
struct Asset {
  std::string_view path;  ///< "/index.html"
  std::string_view type;
  std::string_view bytes;     ///< gzip
  std::string_view etag;      ///< in quotes
  bool is_immutable = false;  ///< its name changes with its content
};

/// Everything that answers requests: who may come in, which resource answers, the web app's files.
struct SiteOptions {
  std::span<const Route> routes;
  std::span<const Asset> assets;
  Desk& quick;  ///< of the server's thread
  Desk& slow;   ///< of the worker thread
  access::Gate& gate;
  std::string version;
  std::function<std::string()> metrics;  ///< the OpenMetrics text
  bool over_tls = false;                 ///< something in front of the server speaks TLS
};

class Site {
 public:
  explicit Site(SiteOptions options) : options_(std::move(options)) {}

  wire::Answer answer(const wire::Request& request) const;
  bool is_slow(const wire::Request& request) const;
  /// The three as the server takes them. The site must outlive the server.
  wire::Handler handler() const;

 private:
  wire::Answer guarded(const wire::Request& request) const;
  wire::Answer api(const wire::Request& request) const;
  wire::Response health() const;
  wire::Response enter(const wire::Request& request) const;
  wire::Response asset(const wire::Request& request) const;

  SiteOptions options_;
};

}  // namespace pitwright::http
