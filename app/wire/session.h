#pragma once

// Only server.cpp and session.cpp include this: it shows the library they are made with.

#include <utility>  // Boost 1.74's awaitable.hpp uses std::exchange without including it

#include <boost/asio.hpp>

#include "wire/exchange.h"
#include "wire/hub.h"
#include "wire/server.h"

namespace pitwright::wire {

/// What all connections of a server share.
struct Shared {
  const ServerOptions& options;
  const Handler& handler;
  Hub& hub;
  ServerCounts& counts;
  boost::asio::thread_pool& worker;
};

/// Serves one connection until it ends, is idle, or is cut off.
boost::asio::awaitable<void> serve_connection(boost::asio::ip::tcp::socket socket, Shared shared);

}  // namespace pitwright::wire
