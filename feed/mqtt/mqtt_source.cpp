#include "mqtt/mqtt_source.h"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <unistd.h>

#include "mqtt/client.h"
#include "mqtt/mid_ledger.h"
#include "payload/payload.h"

namespace pitwright::feed {
namespace {

using std::chrono::milliseconds;

Moment now() {
  return std::chrono::floor<std::chrono::microseconds>(std::chrono::system_clock::now());
}

/// Messages become readings here and wait for the store.
class Intake {
 public:
  static Result<Intake> make(const MqttFeed& feed, MidLedger ledger, Troubles& troubles) {
    Intake intake(feed, std::move(ledger), troubles);
    for (const auto& topic : feed.topics) {
      auto reader = PayloadReader::make(topic.payload, feed.name, troubles);
      if (!reader) return std::unexpected(reader.error());
      intake.readers_.push_back(std::move(*reader));
    }
    return intake;
  }

  void take(const MqttMessage& message) {
    ++messages_;
    const auto before = readings_.size();
    auto arrival = now();
    if (arrival <= last_arrival_) arrival = last_arrival_ + std::chrono::microseconds(1);
    last_arrival_ = arrival;  // two readings without a stamp are two readings
    if (message.id > 0) {
      arrival =
          ledger_.arrival(message.id, message.maybe_again, message.topic, message.payload, arrival);
    }
    for (std::size_t i = 0; i < readers_.size(); ++i) {
      if (!topic_fits(feed_->topics[i].filter, message.topic)) continue;
      readers_[i].read(message.payload, message.topic, arrival, readings_);
      break;  // the first filter that fits, in the order of the file
    }
    if (message.retained) leave_out_unstamped(before, message.topic);
    unstamped_ =
        unstamped_ || std::any_of(readings_.begin() + static_cast<std::ptrdiff_t>(before),
                                  readings_.end(), [](const auto& r) { return !r.stamped; });
  }

  void begin(bool same_session) { ledger_.begin(same_session); }
  bool idle() const { return messages_ == 0; }
  bool full() const { return readings_.size() >= most_readings || messages_ >= most_messages; }

  /// True: all is durable.
  bool hand_over(Outlet& outlet) {
    if (!unstamped_) ledger_.forget();
    const auto noted = ledger_.sync();
    if (!noted) troubles_->once("ledger", fmt::format("{}: {}", feed_->name, noted.error().what));
    const bool durable =
        readings_.empty() || outlet.deliver({feed_->name, std::exchange(readings_, {}), {}});
    readings_.clear();
    readings_.reserve(most_messages);
    messages_ = 0;
    unstamped_ = false;
    return durable;
  }

 private:
  static constexpr std::size_t most_readings = 20'000;
  static constexpr std::size_t most_messages = 4'000;

  Intake(const MqttFeed& feed, MidLedger ledger, Troubles& troubles)
      : feed_(&feed), ledger_(std::move(ledger)), troubles_(&troubles) {}

  /// A retained message is as old as it likes: without a stamp nobody knows when it was.
  void leave_out_unstamped(std::size_t before, std::string_view topic) {
    const auto from = readings_.begin() + static_cast<std::ptrdiff_t>(before);
    const auto gone =
        std::remove_if(from, readings_.end(), [](const auto& r) { return !r.stamped; });
    if (gone == readings_.end()) return;
    readings_.erase(gone, readings_.end());
    troubles_->once(fmt::format("{}: retained {}", feed_->name, topic),
                    fmt::format("{}: what the broker retains on '{}' has no time and may be old; "
                                "left out",
                                feed_->name, shown(topic)));
  }

  const MqttFeed* feed_;
  MidLedger ledger_;
  Troubles* troubles_;
  std::vector<PayloadReader> readers_;
  std::vector<Reading> readings_;
  std::size_t messages_ = 0;
  Moment last_arrival_;
  bool unstamped_ = false;
};

/// One connection, from its beginning to its end. An error is why it ended; no error: the feed
/// ends.
Result<void> converse(MqttClient& client, Intake& intake, Outlet& outlet, Troubles& troubles,
                      const MqttFeed& feed) {
  constexpr milliseconds breath{200};
  const auto& name = feed.name;
  bool told = false;
  while (true) {
    Result<bool> got = client.read(intake.idle() ? breath : milliseconds(0));
    while (got && *got && !intake.full()) got = client.read(milliseconds(0));
    if (!intake.idle() && !intake.hand_over(outlet)) return {};  // not stored: not acknowledged
    if (!got) return std::unexpected(got.error());
    if (const auto sent = client.flush(); !sent) return sent;
    if (const auto alive = client.keep_alive(); !alive) return alive;
    if (client.subscribed() && !std::exchange(told, true)) {
      troubles.over(name + ": broker");
      troubles.now(fmt::format("{}: listening to {}:{}", name, feed.broker.host, feed.broker.port));
      if (!client.refused().empty()) {
        troubles.now(
            fmt::format("{}: the broker does not let us subscribe to {}", name, client.refused()));
      }
    }
    if (outlet.stopping()) {
      client.disconnect();
      return {};
    }
  }
}

std::string client_name(const MqttFeed& feed) {
  if (!feed.broker.client.empty()) return feed.broker.client;
  char host[65] = {};
  ::gethostname(host, sizeof host - 1);
  return fmt::format("pitwright-{}-{}", host, feed.name);
}

Result<MidLedger> ledger_of(const MqttFeed& feed, const std::filesystem::path& memory) {
  if (memory.empty()) return MidLedger();
  return MidLedger::open(memory / (feed.name + ".arrivals"));
}

}  // namespace

bool topic_fits(std::string_view filter, std::string_view topic) {
  if (topic.starts_with('$') != filter.starts_with('$')) return false;
  while (true) {
    const auto filter_level = filter.substr(0, filter.find('/'));
    if (filter_level == "#") return true;
    const auto topic_level = topic.substr(0, topic.find('/'));
    if (filter_level != "+" && filter_level != topic_level) return false;
    const bool filter_ends = filter_level.size() == filter.size();
    const bool topic_ends = topic_level.size() == topic.size();
    if (topic_ends) return filter_ends || filter.substr(filter_level.size()) == "/#";
    if (filter_ends) return false;
    filter.remove_prefix(filter_level.size() + 1);
    topic.remove_prefix(topic_level.size() + 1);
  }
}

Result<void> run_mqtt(const MqttFeed& feed, const std::filesystem::path& memory, Outlet& outlet,
                      Troubles& troubles) {
  constexpr milliseconds patience{10'000};
  constexpr milliseconds first_pause{500};
  constexpr milliseconds longest_pause{30'000};
  auto ledger = ledger_of(feed, memory);
  if (!ledger) return std::unexpected(ledger.error());
  auto intake = Intake::make(feed, std::move(*ledger), troubles);
  if (!intake) return std::unexpected(intake.error());
  std::vector<std::string> filters;
  for (const auto& topic : feed.topics) filters.push_back(topic.filter);
  auto place = feed.broker;
  place.client = client_name(feed);
  if (!place.password_file.empty() && others_can_read(place.password_file)) {
    troubles.now(
        fmt::format("{}: others can read {}; chmod 600 would keep the password to yourself",
                    feed.name, place.password_file.string()));
  }
  const auto client = MqttClient::make(
      place, filters, [&intake](const MqttMessage& message) { intake->take(message); },
      [&intake](bool same_session) { intake->begin(same_session); });
  if (!client) return std::unexpected(client.error());
  auto pause = first_pause;
  while (!outlet.stopping()) {
    auto ended = (*client)->connect(patience);
    if (ended) {
      pause = first_pause;
      ended = converse(**client, *intake, outlet, troubles, feed);
      if (ended) return {};
    } else if (!intake->idle() && !intake->hand_over(outlet)) {
      return {};
    }
    troubles.once(feed.name + ": broker",
                  fmt::format("{}: {}; trying again", feed.name, ended.error().what));
    if (outlet.pause(pause)) return {};
    pause = std::min(pause * 2, longest_pause);
  }
  return {};
}

}  // namespace pitwright::feed
