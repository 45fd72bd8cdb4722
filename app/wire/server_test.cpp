#include "wire/server.h"

#include <chrono>
#include <condition_variable>
#include <mutex>
#include <thread>

#include <arpa/inet.h>
#include <gmock/gmock.h>
#include <sys/socket.h>
#include <unistd.h>

namespace pitwright::wire {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

/// A plain blocking connection to this machine.
class Line {
 public:
  explicit Line(std::uint16_t port, int receive_buffer = 0)
      : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
    if (receive_buffer > 0)
      ::setsockopt(socket_, SOL_SOCKET, SO_RCVBUF, &receive_buffer, sizeof receive_buffer);
    const timeval patience{10, 0};
    ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    sockaddr_in end{};
    end.sin_family = AF_INET;
    end.sin_port = htons(port);
    end.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    EXPECT_EQ(::connect(socket_, reinterpret_cast<const sockaddr*>(&end), sizeof end), 0);
  }
  ~Line() { ::close(socket_); }
  Line(const Line&) = delete;
  Line& operator=(const Line&) = delete;

  void say(const std::string& text) const {
    ASSERT_EQ(::send(socket_, text.data(), text.size(), MSG_NOSIGNAL),
              static_cast<ssize_t>(text.size()));
  }
  /// Reads until the text holds `mark`, the other side closes, or ten seconds pass.
  std::string hear_until(const std::string& mark) {
    while (heard_.find(mark) == std::string::npos) {
      char some[4096];
      const auto got = ::recv(socket_, some, sizeof some, 0);
      if (got <= 0) break;
      heard_.append(some, static_cast<std::size_t>(got));
    }
    return std::exchange(heard_, {});
  }

 private:
  int socket_;
  std::string heard_;
};

/// A server that runs for as long as the test does.
class Running {
 public:
  explicit Running(Handler handler, ServerOptions options = {}) {
    auto made = Server::listen(options, std::move(handler));
    if (!made) throw std::runtime_error(made.error().what);
    server = std::move(*made);
    thread_ = std::thread([this] { server->run(); });
  }
  ~Running() {
    server->stop();
    thread_.join();
  }
  std::unique_ptr<Server> server;

 private:
  std::thread thread_;
};

Handler handler_of(std::function<Answer(const Request&)> answer) {
  return {std::move(answer), [](const Request& request) { return request.path == "/slow"; },
          [](int status) {
            return Response{status, "text/plain", "refused\n", {}};
          }};
}

Handler echo() {
  return handler_of([](const Request& request) -> Answer {
    if (request.path == "/stream") return Subscription{"topic", std::nullopt, {}};
    return Response{200,
                    "text/plain",
                    request.method + " " + request.path + " " + request.body + "\n",
                    {{"X-Test", "yes"}}};
  });
}

TEST(Server, answers_several_requests_on_one_connection) {
  const Running running(echo());
  Line line(running.server->port());
  line.say("GET /a HTTP/1.1\r\nHost: x\r\n\r\n");
  EXPECT_THAT(line.hear_until("GET /a"), HasSubstr("X-Test: yes"));
  line.say("POST /b HTTP/1.1\r\nHost: x\r\nContent-Length: 5\r\n\r\nhello");
  EXPECT_THAT(line.hear_until("hello"), HasSubstr("POST /b hello"));
}

TEST(Server, head_gets_the_length_but_no_body) {
  const Running running(echo());
  Line line(running.server->port());
  line.say("HEAD /a HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n");
  const auto heard = line.hear_until("never comes");
  EXPECT_THAT(heard, HasSubstr("Content-Length: 9"));
  EXPECT_THAT(heard, testing::EndsWith("\r\n\r\n"));
}

TEST(Server, refuses_what_it_cannot_read) {
  ServerOptions small;
  small.most_body_bytes = 100;
  small.most_header_bytes = 500;
  const Running running(echo(), small);
  const auto answer_to = [&](const std::string& text) {
    Line line(running.server->port());
    line.say(text);
    return line.hear_until("refused");
  };
  EXPECT_THAT(answer_to("nonsense\r\n\r\n"), StartsWith("HTTP/1.1 400"));
  EXPECT_THAT(answer_to("GET /%00 HTTP/1.1\r\nHost: x\r\n\r\n"), StartsWith("HTTP/1.1 400"));
  EXPECT_THAT(answer_to("POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 101\r\n\r\n"),
              StartsWith("HTTP/1.1 413"));
  EXPECT_THAT(answer_to("GET / HTTP/1.1\r\nX: " + std::string(600, 'x') + "\r\n\r\n"),
              StartsWith("HTTP/1.1 431"));
}

TEST(Server, refuses_one_connection_too_many) {
  ServerOptions few;
  few.most_connections = 1;
  const Running running(echo(), few);
  Line first(running.server->port());
  first.say("GET /a HTTP/1.1\r\nHost: x\r\n\r\n");
  first.hear_until("GET /a");
  Line second(running.server->port());
  EXPECT_THAT(second.hear_until("refused"), StartsWith("HTTP/1.1 503"));
}

TEST(Server, streams_what_the_hub_is_told) {
  const Running running(echo());
  Line line(running.server->port());
  line.say("GET /stream HTTP/1.1\r\nHost: x\r\n\r\n");
  EXPECT_THAT(line.hear_until("retry"), HasSubstr("text/event-stream"));
  running.server->post([](Hub& hub) { hub.publish("topic", "fire", "{}"); });
  EXPECT_THAT(line.hear_until("data: {}"), HasSubstr("event: fire"));
}

TEST(Server, a_slow_answer_holds_up_nobody_else) {
  std::mutex mutex;
  std::condition_variable door;
  bool open = false;
  const Running running(handler_of([&](const Request& request) -> Answer {
    if (request.path == "/slow") {
      std::unique_lock lock(mutex);
      door.wait(lock, [&] { return open; });
    }
    return Response{200, "text/plain", "done " + request.path + "\n", {}};
  }));
  Line slow(running.server->port());
  slow.say("GET /slow HTTP/1.1\r\nHost: x\r\n\r\n");
  Line quick(running.server->port());
  quick.say("GET /quick HTTP/1.1\r\nHost: x\r\n\r\n");
  EXPECT_THAT(quick.hear_until("done"), HasSubstr("200 OK"));
  {
    const std::lock_guard lock(mutex);
    open = true;
  }
  door.notify_all();
  EXPECT_THAT(slow.hear_until("done /slow"), HasSubstr("done /slow"));
}

TEST(Server, cuts_off_a_viewer_that_takes_nothing) {
  ServerOptions strict;
  strict.slow_write_s = 1;
  const Running running(echo(), strict);
  Line deaf(running.server->port(), 4096);
  deaf.say("GET /stream HTTP/1.1\r\nHost: x\r\n\r\n");
  deaf.hear_until("retry");
  const std::string much(256 * 1024, 'x');
  std::size_t viewers = 1;
  for (int i = 0; i < 100 && viewers > 0; ++i) {
    std::mutex mutex;
    std::condition_variable seen;
    bool done = false;
    running.server->post([&](Hub& hub) {
      hub.publish("topic", "n", much);
      const std::lock_guard lock(mutex);
      viewers = hub.viewers();
      done = true;
      seen.notify_one();
    });
    std::unique_lock lock(mutex);
    seen.wait(lock, [&] { return done; });
    lock.unlock();
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  EXPECT_EQ(viewers, 0u);
}

TEST(Server, says_why_it_cannot_listen) {
  const Running running(echo());
  ServerOptions taken;
  taken.port = running.server->port();
  const auto second = Server::listen(taken, echo());
  ASSERT_FALSE(second);
  EXPECT_THAT(second.error().what, HasSubstr("--port"));
  ServerOptions odd;
  odd.host = "nowhere";
  EXPECT_EQ(Server::listen(odd, echo()).error().kind, ErrorKind::bad_input);
}

}  // namespace
}  // namespace pitwright::wire
