#include "mqtt/publisher.h"

#include <cerrno>
#include <cstring>

#include <mosquitto.h>

namespace pitwright::feed {
namespace {

using std::chrono::steady_clock;
constexpr long most_open = 1000;

std::unexpected<Error> failed(int code) {
  return fail(ErrorKind::unavailable, "the broker is not reached: {}",
              code == MOSQ_ERR_ERRNO ? std::strerror(errno) : mosquitto_strerror(code));
}

}  // namespace

Result<std::unique_ptr<Publisher>> Publisher::connect(const BrokerPlace& place) {
  constexpr int keep_alive_s = 60;
  mosquitto_lib_init();
  std::unique_ptr<Publisher> made(new Publisher);
  made->mosquitto_ = mosquitto_new(nullptr, true, made.get());
  auto* m = made->mosquitto_;
  if (m == nullptr) return fail(ErrorKind::unavailable, "the MQTT library does not start");
  mosquitto_max_inflight_messages_set(m, static_cast<unsigned>(most_open));
  mosquitto_connect_callback_set(m, [](mosquitto*, void* self, int code) {
    static_cast<Publisher*>(self)->connected_ = code;
  });
  mosquitto_publish_callback_set(
      m, [](mosquitto*, void* self, int) { ++static_cast<Publisher*>(self)->acknowledged_; });
  const int code = mosquitto_connect(m, place.host.c_str(), place.port, keep_alive_s);
  if (code != MOSQ_ERR_SUCCESS) return failed(code);
  const auto until = steady_clock::now() + std::chrono::seconds(10);
  while (made->connected_ < 0 && steady_clock::now() < until) {
    if (const auto turned = made->turn(); !turned) return std::unexpected(turned.error());
  }
  if (made->connected_ == 0) return made;
  return fail(ErrorKind::unavailable, "the broker refuses us: {}",
              mosquitto_connack_string(made->connected_));
}

Publisher::~Publisher() {
  if (mosquitto_ == nullptr) return;
  mosquitto_disconnect(mosquitto_);
  mosquitto_destroy(mosquitto_);
}

Result<void> Publisher::turn() {
  constexpr int wait_ms = 20;
  const int code = mosquitto_loop(mosquitto_, wait_ms, 1);
  if (code != MOSQ_ERR_SUCCESS) return failed(code);
  return {};
}

Result<void> Publisher::publish(const std::string& topic, std::string_view payload) {
  while (published_ - acknowledged_ >= most_open) {
    if (const auto turned = turn(); !turned) return turned;
  }
  const int code = mosquitto_publish(mosquitto_, nullptr, topic.c_str(),
                                     static_cast<int>(payload.size()), payload.data(), 1, false);
  if (code != MOSQ_ERR_SUCCESS) return failed(code);
  ++published_;
  return {};
}

Result<void> Publisher::finish(std::chrono::milliseconds patience) {
  const auto until = steady_clock::now() + patience;
  while (acknowledged_ < published_) {
    if (steady_clock::now() > until) {
      return fail(ErrorKind::unavailable, "the broker did not acknowledge {} of {} messages",
                  published_ - acknowledged_, published_);
    }
    if (const auto turned = turn(); !turned) return turned;
  }
  return {};
}

}  // namespace pitwright::feed
