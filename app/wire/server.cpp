#include "wire/server.h"

#include <atomic>
#include <chrono>

#include <fmt/core.h>

#include "wire/session.h"

namespace pitwright::wire {

namespace asio = boost::asio;
using asio::awaitable;
using asio::use_awaitable;
using asio::ip::tcp;

namespace {

/// Work that nobody waits for must not end the server: what it throws is said, and all goes on.
template <typename Work, typename... Args>
void do_safely(const Work& work, Args&&... args) {
  try {
    work(std::forward<Args>(args)...);
  } catch (const std::exception& mistake) {
    fmt::print(stderr, "pitwright: {}\n", mistake.what());
  }
}

/// Microseconds since 1970: identifiers of a later server are higher.
std::uint64_t first_event_id() {
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  return static_cast<std::uint64_t>(
      std::chrono::duration_cast<std::chrono::microseconds>(now).count());
}

}  // namespace

class Server::Inside {
 public:
  Inside(const ServerOptions& options, Handler handler)
      : options_(options), handler_(std::move(handler)), hub_(first_event_id()), acceptor_(loop_) {}

  Result<void> open() {
    boost::system::error_code error;
    const auto address = asio::ip::make_address(options_.host, error);
    if (error)
      return fail(ErrorKind::bad_input,
                  "'{}' is not an address to listen on; 127.0.0.1 is this machine only, 0.0.0.0 "
                  "every network",
                  options_.host);
    const tcp::endpoint end(address, options_.port);
    acceptor_.open(end.protocol(), error);
    if (!error) acceptor_.set_option(tcp::acceptor::reuse_address(true), error);
    if (!error) acceptor_.bind(end, error);
    if (!error) acceptor_.listen(asio::socket_base::max_listen_connections, error);
    if (error)
      return fail(ErrorKind::unavailable, "cannot listen on {}:{}: {}; try another --port",
                  options_.host, options_.port, error.message());
    return {};
  }

  void run() {
    asio::co_spawn(loop_, accept(), asio::detached);
    loop_.run();
    worker_.join();
  }

  awaitable<void> accept() {
    for (;;) {
      boost::system::error_code error;
      auto socket = co_await acceptor_.async_accept(asio::redirect_error(use_awaitable, error));
      if (error == asio::error::operation_aborted) co_return;
      if (error) {  // such as no file handles left: wait for one to come back
        asio::steady_timer pause(loop_, std::chrono::milliseconds(50));
        co_await pause.async_wait(use_awaitable);
        continue;
      }
      asio::co_spawn(
          loop_,
          serve_connection(std::move(socket), Shared{options_, handler_, hub_, counts_, worker_}),
          asio::detached);
    }
  }

  awaitable<void> repeat(int period_ms, std::function<void(Hub&)> work) {
    asio::steady_timer timer(loop_);
    for (;;) {
      timer.expires_after(std::chrono::milliseconds(period_ms));
      co_await timer.async_wait(use_awaitable);
      do_safely(work, hub_);
    }
  }

  ServerOptions options_;
  Handler handler_;
  Hub hub_;  // before the loop: connections that end with it still leave the hub
  ServerCounts counts_;
  asio::io_context loop_{1};
  asio::thread_pool worker_{1};
  tcp::acceptor acceptor_;
};

Server::Server(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Server::~Server() = default;

Result<std::unique_ptr<Server>> Server::listen(const ServerOptions& options, Handler handler) {
  auto inside = std::make_unique<Inside>(options, std::move(handler));
  if (auto opened = inside->open(); !opened) return std::unexpected(opened.error());
  return std::unique_ptr<Server>(new Server(std::move(inside)));
}

std::uint16_t Server::port() const {
  return inside_->acceptor_.local_endpoint().port();
}

void Server::run() {
  inside_->run();
}

void Server::stop() {
  inside_->loop_.stop();
}

void Server::post(std::function<void(Hub&)> work) {
  asio::post(inside_->loop_, [this, work = std::move(work)] { do_safely(work, inside_->hub_); });
}

void Server::every(int period_ms, std::function<void(Hub&)> work) {
  asio::co_spawn(inside_->loop_, inside_->repeat(period_ms, std::move(work)), asio::detached);
}

void Server::post_slow(std::function<void()> work) {
  asio::post(inside_->worker_, [work = std::move(work)] { do_safely(work); });
}

ServerCounts Server::counts() const {
  auto counts = inside_->counts_;
  counts.viewers = inside_->hub_.viewers();
  counts.lost_backlogs = inside_->hub_.lost();
  return counts;
}

}  // namespace pitwright::wire
