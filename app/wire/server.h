#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>

#include "base/result.h"
#include "wire/exchange.h"
#include "wire/hub.h"

namespace pitwright::wire {

struct ServerOptions {
  std::string host = "127.0.0.1";  ///< an address, not a name
  std::uint16_t port = 0;          ///< 0: any that is free
  std::size_t most_connections = 1500;
  std::size_t most_header_bytes = 16 * 1024;
  std::size_t most_body_bytes = 4 * 1024 * 1024;
  int idle_s = 30;        ///< a connection that asks nothing is closed
  int slow_write_s = 10;  ///< one that takes nothing is cut off
  int heartbeat_s = 15;   ///< a remark on every stream, so that a vanished viewer is noticed
};

/// What the server has done, for /metrics.
struct ServerCounts {
  std::uint64_t requests = 0;
  std::uint64_t refused = 0;
  std::size_t connections = 0;
  std::size_t viewers = 0;
  std::uint64_t lost_backlogs = 0;
};

/// An HTTP/1.1 server on one thread, with one more for what is slow. Handlers get whole requests;
/// streams come from the hub.
class Server {
 public:
  /// Fails: bad_input for an address that is none; unavailable where the port is taken or not
  /// allowed.
  static Result<std::unique_ptr<Server>> listen(const ServerOptions& options, Handler handler);
  ~Server();

  std::uint16_t port() const;
  /// Serves until stop().
  void run();
  /// From any thread, or a signal's handler thread.
  void stop();
  /// Does something on the server's thread: the only place from which the hub may be used.
  void post(std::function<void(Hub&)> work);
  /// Calls `work` every `period_ms` on the server's thread while it runs.
  void every(int period_ms, std::function<void(Hub&)> work);
  /// Does something on the worker thread.
  void post_slow(std::function<void()> work);
  ServerCounts counts() const;  ///< on the server's thread, or when it does not run

 private:
  class Inside;
  explicit Server(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace pitwright::wire
