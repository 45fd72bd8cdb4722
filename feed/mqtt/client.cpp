#include "mqtt/client.h"

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <utility>

#include <fmt/format.h>
#include <mosquitto.h>
#include <mqtt_protocol.h>
#include <poll.h>

namespace pitwright::feed {
namespace {

using std::chrono::milliseconds;
using std::chrono::steady_clock;

constexpr int keep_alive_s = 30;
constexpr int most_in_flight = 4000;
constexpr unsigned session_kept_s = 30U * 86'400;
constexpr unsigned longest_packet = 16U << 20;

/// The library wants to be told once that it is used.
void start_library() {
  static const int once = mosquitto_lib_init();
  (void)once;
}

/// Waits for the socket; false: the time is over.
bool wait_for(int socket, short what, milliseconds span) {
  pollfd one{socket, what, 0};
  return ::poll(&one, 1, static_cast<int>(span.count())) > 0;
}

}  // namespace

void MqttClient::Destroy::operator()(mosquitto* m) const {
  mosquitto_destroy(m);
}

MqttClient::MqttClient(BrokerPlace place, std::vector<std::string> filters, OnMessage on_message,
                       OnSession on_session)
    : place_(std::move(place)),
      filters_(std::move(filters)),
      on_message_(std::move(on_message)),
      on_session_(std::move(on_session)) {}

MqttClient::~MqttClient() = default;

std::string MqttClient::where() const {
  return fmt::format("{}:{}", place_.host, place_.port);
}

Result<std::unique_ptr<MqttClient>> MqttClient::make(const BrokerPlace& place,
                                                     std::vector<std::string> filters,
                                                     OnMessage on_message, OnSession on_session) {
  start_library();
  std::unique_ptr<MqttClient> client(
      new MqttClient(place, std::move(filters), std::move(on_message), std::move(on_session)));
  client->mosquitto_.reset(mosquitto_new(place.client.c_str(), false, client.get()));
  if (!client->mosquitto_) {
    return fail(ErrorKind::unavailable, "the MQTT library does not start: {}",
                std::strerror(errno));
  }
  if (const auto done = client->configure(); !done) return std::unexpected(done.error());
  return client;
}

Result<void> MqttClient::configure() {
  auto* m = mosquitto_.get();
  // The library then queues what it wants to send; we send it when the store has the readings.
  mosquitto_threaded_set(m, true);
  mosquitto_int_option(m, MOSQ_OPT_PROTOCOL_VERSION,
                       place_.version == MqttVersion::v5 ? MQTT_PROTOCOL_V5 : MQTT_PROTOCOL_V311);
  mosquitto_int_option(m, MOSQ_OPT_RECEIVE_MAXIMUM, most_in_flight);
  mosquitto_int_option(m, MOSQ_OPT_TCP_NODELAY, 1);
  mosquitto_connect_with_flags_callback_set(m, on_connect);
  mosquitto_log_callback_set(m, on_log);
  mosquitto_disconnect_v5_callback_set(m, on_disconnect);
  mosquitto_subscribe_callback_set(m, on_subscribe);
  mosquitto_message_callback_set(m, on_message);
  std::string password;
  if (!place_.password_env.empty()) {
    const char* const value = std::getenv(place_.password_env.c_str());
    if (value == nullptr) {
      return fail(ErrorKind::bad_input, "the environment has no variable {} with the password",
                  place_.password_env);
    }
    password = value;
  } else if (!place_.password_file.empty()) {
    const auto secret = secret_in(place_.password_file);
    if (!secret) return fail(ErrorKind::bad_input, "{}", secret.error().what);
    password = *secret;
  }
  if (!place_.user.empty()) {
    mosquitto_username_pw_set(m, place_.user.c_str(), password.c_str());
  }
  if (!place_.tls) return {};
  const int code =
      mosquitto_tls_set(m, place_.ca.empty() ? nullptr : place_.ca.c_str(),
                        place_.ca.empty() ? "/etc/ssl/certs" : nullptr, nullptr, nullptr, nullptr);
  if (code == MOSQ_ERR_SUCCESS) return {};
  return fail(ErrorKind::bad_input, "{}: no certificates can be read from it",
              place_.ca.empty() ? "/etc/ssl/certs" : place_.ca.string());
}

std::unexpected<Error> MqttClient::gone(int code) {
  const std::string why =
      lost_code_ == MQTT_RC_SESSION_TAKEN_OVER
          ? fmt::format("another program took over the session '{}'; give each its own 'client'",
                        place_.client)
      : code == MOSQ_ERR_ERRNO ? std::strerror(errno)
      : code == MOSQ_ERR_TLS ? "TLS failed: the certificate is not one that the CA file signed for "
                               "this name, or the port speaks no TLS"
      : code == MOSQ_ERR_EAI ? "no computer of this name is known"
                             : mosquitto_strerror(code);
  return fail(ErrorKind::unavailable, "broker {}: {}", where(), why);
}

Result<void> MqttClient::open() {
  auto* m = mosquitto_.get();
  int code = MOSQ_ERR_SUCCESS;
  if (place_.version == MqttVersion::v5) {
    mosquitto_property* properties = nullptr;
    mosquitto_property_add_int32(&properties, MQTT_PROP_SESSION_EXPIRY_INTERVAL, session_kept_s);
    mosquitto_property_add_int32(&properties, MQTT_PROP_MAXIMUM_PACKET_SIZE, longest_packet);
    code = mosquitto_connect_bind_v5(m, place_.host.c_str(), place_.port, keep_alive_s, nullptr,
                                     properties);
    mosquitto_property_free_all(&properties);
  } else {
    code = mosquitto_connect(m, place_.host.c_str(), place_.port, keep_alive_s);
  }
  if (code != MOSQ_ERR_SUCCESS) return gone(code);
  return {};
}

Result<void> MqttClient::subscribe() {
  std::vector<char*> filters;
  filters.reserve(filters_.size());
  for (auto& filter : filters_) filters.push_back(filter.data());
  // A retained message comes again only with a new subscription (MQTT 5 only).
  const int options = place_.version == MqttVersion::v5 ? MQTT_SUB_OPT_SEND_RETAIN_NEW : 0;
  const int code =
      mosquitto_subscribe_multiple(mosquitto_.get(), nullptr, static_cast<int>(filters.size()),
                                   filters.data(), 1, options, nullptr);
  if (code != MOSQ_ERR_SUCCESS) return gone(code);
  return {};
}

std::unexpected<Error> MqttClient::refused_connection() const {
  const bool v5 = place_.version == MqttVersion::v5 && connect_code_ >= 0x80;
  const bool version = connect_code_ == 1 || connect_code_ == MQTT_RC_UNSUPPORTED_PROTOCOL_VERSION;
  return fail(ErrorKind::unavailable, "broker {}: {}{}", where(),
              v5 ? mosquitto_reason_string(connect_code_) : mosquitto_connack_string(connect_code_),
              version ? "; set version = \"3.1.1\"" : " (see 'user' and 'password_file')");
}

Result<void> MqttClient::connect(milliseconds patience) {
  connect_code_ = -1;
  lost_code_ = 0;
  refused_.clear();
  subscribed_ = false;
  const auto until = steady_clock::now() + patience;
  if (const auto opened = open(); !opened) return opened;
  while (connect_code_ < 0) {
    if (steady_clock::now() > until) {
      return fail(ErrorKind::unavailable, "broker {}: no answer within {} s", where(),
                  patience.count() / 1000);
    }
    if (const auto sent = flush(); !sent) return sent;
    if (const auto got = read(milliseconds(50)); !got) {
      return connect_code_ > 0 ? Result<void>(refused_connection()) : std::unexpected(got.error());
    }
  }
  if (connect_code_ > 0) return refused_connection();
  return {};
}

Result<bool> MqttClient::read(milliseconds span) {
  auto* m = mosquitto_.get();
  const int socket = mosquitto_socket(m);
  if (socket < 0) return gone(MOSQ_ERR_CONN_LOST);
  if (!wait_for(socket, POLLIN, span)) return false;
  const int code = mosquitto_loop_read(m, 1);
  if (code != MOSQ_ERR_SUCCESS) return gone(code);
  return true;
}

Result<void> MqttClient::flush() {
  auto* m = mosquitto_.get();
  const auto until = steady_clock::now() + std::chrono::seconds(keep_alive_s);
  while (mosquitto_want_write(m)) {
    const int socket = mosquitto_socket(m);
    if (socket < 0) return gone(MOSQ_ERR_CONN_LOST);
    if (steady_clock::now() > until) return gone(MOSQ_ERR_CONN_LOST);
    const int code = mosquitto_loop_write(m, 1);
    if (code != MOSQ_ERR_SUCCESS) return gone(code);
    if (!mosquitto_want_write(m)) break;
    wait_for(mosquitto_socket(m), POLLOUT, milliseconds(100));
    if (connect_code_ < 0) break;  // TLS is still shaking hands: reading goes on with it
  }
  return {};
}

Result<void> MqttClient::keep_alive() {
  const int code = mosquitto_loop_misc(mosquitto_.get());
  if (code != MOSQ_ERR_SUCCESS) return gone(code);
  return flush();
}

void MqttClient::disconnect() {
  if (mosquitto_socket(mosquitto_.get()) < 0) return;
  mosquitto_disconnect(mosquitto_.get());
  (void)flush();
}

/// Subscribes at once: messages of the kept session may follow in the same breath, and their
/// acknowledgements, which wait for the store, queue up behind.
void MqttClient::on_connect(mosquitto*, void* self, int code, int flags) {
  auto& client = *static_cast<MqttClient*>(self);
  client.connect_code_ = code;
  if (code == 0) client.on_session_((flags & 1) != 0);  // CONNACK: session present
  if (code == 0 && !client.filters_.empty()) (void)client.subscribe();
}

void MqttClient::on_disconnect(mosquitto*, void* self, int code, const mqtt5__property*) {
  static_cast<MqttClient*>(self)->lost_code_ = code;
}

void MqttClient::on_subscribe(mosquitto*, void* self, int, int count, const int* granted) {
  auto& client = *static_cast<MqttClient*>(self);
  client.subscribed_ = true;
  for (int i = 0; i < count && i < static_cast<int>(client.filters_.size()); ++i) {
    if (granted[i] < 0x80) continue;
    client.refused_ +=
        (client.refused_.empty() ? "" : ", ") + client.filters_[static_cast<std::size_t>(i)];
  }
}

void MqttClient::on_message(mosquitto*, void* self, const mosquitto_message* message) {
  const auto& client = *static_cast<MqttClient*>(self);
  client.on_message_(
      {message->topic,
       {static_cast<const char*>(message->payload), static_cast<std::size_t>(message->payloadlen)},
       message->qos > 0 ? message->mid : 0,
       message->retain,
       client.maybe_again_});
}

/// The library keeps the DUP flag to itself; only its log, written just before on_message, tells.
void MqttClient::on_log(mosquitto*, void* self, int, const char* text) {
  constexpr std::string_view sign = "received PUBLISH (d";
  const std::string_view line(text);
  const auto at = line.find(sign);
  if (at == line.npos || at + sign.size() >= line.size()) return;
  static_cast<MqttClient*>(self)->maybe_again_ = line[at + sign.size()] != '0';
}

}  // namespace pitwright::feed
