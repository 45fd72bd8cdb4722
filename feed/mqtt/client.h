#pragma once

#include <chrono>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "feeds/feed_document.h"

struct mosquitto;
struct mosquitto_message;
struct mqtt5__property;

namespace pitwright::feed {

/// A message as it came.
struct MqttMessage {
  std::string_view topic, payload;
  int id = 0;  ///< packet identifier; 0 at QoS 0
  bool retained = false;
  bool maybe_again = true;  ///< false: the broker says that it sends it for the first time
};

/// One connection to a broker with a session that the broker keeps (QoS 1).
///
/// Acknowledgements wait: what arrives in read() is acknowledged by flush() and by nothing else.
/// So a caller makes a heap of messages durable and then flushes. The library by itself would
/// acknowledge a message before it hands it over (docs/decisions/005-feed-acknowledges-late.md).
class MqttClient {
 public:
  using OnMessage = std::function<void(const MqttMessage&)>;
  /// Told before any message of a connection: whether the broker goes on with the session it kept.
  using OnSession = std::function<void(bool same_session)>;

  /// Fails: bad_input for an unusable password or certificate file.
  static Result<std::unique_ptr<MqttClient>> make(const BrokerPlace& place,
                                                  std::vector<std::string> filters,
                                                  OnMessage on_message, OnSession on_session);
  ~MqttClient();
  MqttClient(const MqttClient&) = delete;
  MqttClient& operator=(const MqttClient&) = delete;

  /// Connects, waiting up to `patience` for the broker's answer; the subscription leaves with the
  /// next flush().
  /// Fails: unavailable, in words a person can act on.
  Result<void> connect(std::chrono::milliseconds patience);

  /// Waits up to `span` for something to read and reads one packet (with TLS: all that came in one
  /// record). True: something was read.
  Result<bool> read(std::chrono::milliseconds span);

  /// Sends everything that waits: acknowledgements, pings. Fails: unavailable.
  Result<void> flush();

  /// Sends pings when due. Pre: nothing that was read waits to become durable.
  Result<void> keep_alive();

  /// Whether the broker has answered the subscription.
  bool subscribed() const { return subscribed_; }
  /// The filters that the broker would not grant; empty: none so far.
  const std::string& refused() const { return refused_; }

  /// Says goodbye; the broker keeps the session.
  void disconnect();

 private:
  MqttClient(BrokerPlace place, std::vector<std::string> filters, OnMessage on_message,
             OnSession on_session);
  Result<void> configure();
  Result<void> open();
  Result<void> subscribe();
  std::unexpected<Error> gone(int code);
  std::unexpected<Error> refused_connection() const;
  std::string where() const;

  static void on_connect(mosquitto*, void* self, int code, int flags);
  static void on_disconnect(mosquitto*, void* self, int code, const mqtt5__property*);
  static void on_subscribe(mosquitto*, void* self, int id, int count, const int* granted);
  static void on_log(mosquitto*, void* self, int level, const char* text);
  static void on_message(mosquitto*, void* self, const mosquitto_message* message);

  struct Destroy {
    void operator()(mosquitto* m) const;
  };
  BrokerPlace place_;
  std::vector<std::string> filters_;
  OnMessage on_message_;
  OnSession on_session_;
  std::unique_ptr<mosquitto, Destroy> mosquitto_;
  int connect_code_ = -1;  ///< -1: no answer yet
  bool maybe_again_ = true;
  int lost_code_ = 0;  ///< why the connection ended
  bool subscribed_ = false;
  std::string refused_;
};

/// The first line of a file, without its end. Fails: not_found.
Result<std::string> secret_in(const std::filesystem::path& file);

/// Whether others than its owner may read a file.
bool others_can_read(const std::filesystem::path& file);

}  // namespace pitwright::feed
