#pragma once

#include <chrono>
#include <memory>
#include <string>
#include <string_view>

#include "base/result.h"
#include "feeds/feed_document.h"

struct mosquitto;

namespace pitwright::feed {

/// Publishes to a broker at QoS 1; for made-up burns and benches.
class Publisher {
 public:
  /// Connects. Fails: unavailable.
  static Result<std::unique_ptr<Publisher>> connect(const BrokerPlace& place);
  ~Publisher();
  Publisher(const Publisher&) = delete;
  Publisher& operator=(const Publisher&) = delete;

  /// Hands a message to the broker; waits while many are unacknowledged. Fails: unavailable.
  Result<void> publish(const std::string& topic, std::string_view payload);
  /// Waits until the broker has acknowledged everything. Fails: unavailable after `patience`.
  Result<void> finish(std::chrono::milliseconds patience);

 private:
  Publisher() = default;
  Result<void> turn();
  mosquitto* mosquitto_ = nullptr;
  long published_ = 0;
  long acknowledged_ = 0;
  int connected_ = -1;
};

}  // namespace pitwright::feed
