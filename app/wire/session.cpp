#include "wire/session.h"

#include <algorithm>
#include <cctype>
#include <chrono>
#include <limits>

#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>

#include "wire/target.h"

namespace pitwright::wire {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using asio::awaitable;
using asio::use_awaitable;
using std::chrono::seconds;
using Read = http::request<http::string_body>;

std::string lower(std::string_view text) {
  std::string small(text);
  std::ranges::transform(small, small.begin(),
                         [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return small;
}

std::optional<Request> plain_request(Read& read, const std::string& peer) {
  auto target = read_target({read.target().data(), read.target().size()});
  if (!target) return std::nullopt;
  Request request;
  request.method = std::string(read.method_string());
  request.path = std::move(target->path);
  request.query = std::move(target->query);
  for (const auto& field : read)
    request.headers[lower({field.name_string().data(), field.name_string().size()})] =
        std::string(field.value());
  request.body = std::move(read.body());
  request.peer = peer;
  return request;
}

/// Answers on the worker thread if the request is slow, and comes back to the server's thread.
awaitable<Answer> answer_to(const Request& request, Shared shared) {
  if (!shared.handler.is_slow(request)) co_return shared.handler.answer(request);
  co_return co_await asio::co_spawn(
      shared.worker, [&]() -> awaitable<Answer> { co_return shared.handler.answer(request); },
      use_awaitable);
}

awaitable<void> send(beast::tcp_stream& stream, Response response, unsigned version, bool keep,
                     bool head, Shared shared) {
  http::response<http::string_body> reply{
      http::int_to_status(static_cast<unsigned>(response.status)), version};
  reply.result(static_cast<unsigned>(response.status));
  if (!response.type.empty()) reply.set(http::field::content_type, response.type);
  for (const auto& [name, value] : response.headers) reply.insert(name, value);
  const auto size = response.body.size();
  if (!head) reply.body() = std::move(response.body);
  reply.keep_alive(keep);
  if (response.status != 204 && response.status != 304) reply.content_length(size);
  stream.expires_after(seconds(shared.options.slow_write_s));
  if (head) {
    http::response_serializer<http::string_body> serializer(reply);
    serializer.split(true);
    co_await http::async_write_header(stream, serializer, use_awaitable);
  } else {
    co_await http::async_write(stream, reply, use_awaitable);
  }
}

/// Sends the topic's events until the viewer is gone or takes nothing for `slow_write_s`.
awaitable<void> send_events(beast::tcp_stream& stream, Subscription subscription, Shared shared) {
  asio::steady_timer bell(stream.get_executor());
  bool rung = false;
  const auto viewer = shared.hub.join(subscription.topic, subscription.after, [&] {
    rung = true;
    bell.cancel();
  });
  const std::shared_ptr<void> leaving(nullptr, [&](void*) { shared.hub.leave(viewer); });

  std::string header =
      "HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\nConnection: close\r\n";
  for (const auto& [name, value] : subscription.headers) header += name + ": " + value + "\r\n";
  // The first blank line opens the stream at once, before there is an event.
  header += "\r\nretry: 2000\n\n";
  stream.expires_after(seconds(shared.options.slow_write_s));
  co_await asio::async_write(stream, asio::buffer(header), use_awaitable);
  for (;;) {
    while (!viewer->waiting.empty()) {
      const auto frame = viewer->waiting.front();
      viewer->waiting.pop_front();
      stream.expires_after(seconds(shared.options.slow_write_s));
      co_await asio::async_write(stream, asio::buffer(*frame), use_awaitable);
    }
    rung = false;
    bell.expires_after(seconds(shared.options.heartbeat_s));
    boost::system::error_code cut_short;
    stream.expires_never();
    co_await bell.async_wait(asio::redirect_error(use_awaitable, cut_short));
    if (rung) continue;
    static const std::string heartbeat = ":\n\n";
    stream.expires_after(seconds(shared.options.slow_write_s));
    co_await asio::async_write(stream, asio::buffer(heartbeat), use_awaitable);
  }
}

/// HTTP status for a request that could not be read; 0 where there is nobody left to tell.
int status_of(const beast::error_code& error) {
  if (error == http::error::body_limit) return 413;
  if (error == http::error::header_limit) return 431;
  const bool malformed =
      error.category() == http::make_error_code(http::error::bad_method).category() &&
      error != http::error::end_of_stream && error != http::error::partial_message;
  return malformed ? 400 : 0;
}

awaitable<void> serve(beast::tcp_stream& stream, const std::string& peer, Shared shared) {
  beast::flat_buffer buffer;
  for (;;) {
    http::request_parser<http::string_body> parser;
    parser.header_limit(static_cast<std::uint32_t>(shared.options.most_header_bytes));
    parser.body_limit(shared.options.most_body_bytes);
    stream.expires_after(seconds(shared.options.idle_s));
    beast::error_code error;
    co_await http::async_read(stream, buffer, parser, asio::redirect_error(use_awaitable, error));
    if (error) {
      const int status = status_of(error);
      if (status != 0) ++shared.counts.refused;
      if (status != 0)
        co_await send(stream, shared.handler.refusal(status), 11, false, false, shared);
      co_return;
    }
    auto read = parser.release();
    const bool keep = read.keep_alive();
    const auto version = read.version();
    const auto request = plain_request(read, peer);
    ++shared.counts.requests;
    if (!request) {
      co_await send(stream, shared.handler.refusal(400), version, keep, false, shared);
    } else {
      stream.expires_never();
      auto answer = co_await answer_to(*request, shared);
      if (auto* subscription = std::get_if<Subscription>(&answer)) {
        co_await send_events(stream, std::move(*subscription), shared);
        co_return;
      }
      co_await send(stream, std::move(std::get<Response>(answer)), version, keep,
                    request->method == "HEAD", shared);
    }
    if (!keep) co_return;
  }
}

}  // namespace

awaitable<void> serve_connection(asio::ip::tcp::socket socket, Shared shared) {
  ++shared.counts.connections;
  const std::shared_ptr<void> leaving(nullptr, [&](void*) { --shared.counts.connections; });
  boost::system::error_code gone;
  const auto end = socket.remote_endpoint(gone);
  if (gone) co_return;
  socket.set_option(asio::ip::tcp::no_delay(true), gone);
  beast::tcp_stream stream(std::move(socket));
  try {
    if (shared.counts.connections > shared.options.most_connections) {
      ++shared.counts.refused;
      co_await send(stream, shared.handler.refusal(503), 11, false, false, shared);
    } else {
      co_await serve(stream, end.address().to_string(), shared);
    }
    stream.socket().shutdown(asio::ip::tcp::socket::shutdown_send, gone);
  } catch (const boost::system::system_error&) {
    // The other side went away, or took nothing in time: nobody is left to tell.
  }
}

}  // namespace pitwright::wire
