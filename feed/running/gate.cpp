#include "running/gate.h"

#include <algorithm>
#include <chrono>
#include <utility>

#include <fmt/format.h>

namespace pitwright::feed {
namespace {

constexpr std::size_t most_channels = 10'000;  ///< more are a mistake of the source

Moment now() {
  return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

}  // namespace

Gate::Gate(const FeedDocument& document, Troubles& troubles)
    : leave_unknown_(document.leave_unknown), troubles_(&troubles) {
  const auto add = [this](const auto& feeds) {
    for (const auto& feed : feeds) {
      if (!feed.prefix.empty()) prefixes_[feed.name] = feed.prefix + ":";
    }
  };
  add(document.mqtt);
  add(document.files);
  add(document.sensors);
  add(document.hand);
  add(document.http);
  for (const auto& channel : document.channels) {
    names_[channel.from] = channel.name;
    wanted_.insert(channel.name);
  }
}

/// False: the reading is left out.
bool Gate::name(Reading& reading, const std::string& source) {
  if (const auto prefix = prefixes_.find(source); prefix != prefixes_.end()) {
    reading.channel.insert(0, prefix->second);
  }
  if (!names_.empty()) {
    if (const auto named = names_.find(reading.channel); named != names_.end()) {
      reading.channel = named->second;
    } else {
      troubles_->once(
          "unknown " + reading.channel,
          fmt::format("{}: no [[channel]] names '{}'; {}", source, shown(reading.channel),
                      leave_unknown_ ? "left out" : "stored under this name"));
      if (leave_unknown_) return false;
    }
  }
  auto owner = owners_.find(reading.channel);
  if (owner == owners_.end()) {
    if (owners_.size() >= most_channels) {
      troubles_->once("channels",
                      fmt::format("{}: more than {} channels; further ones are left out", source,
                                  most_channels));
      return false;
    }
    owner = owners_.emplace(reading.channel, source).first;
  }
  if (owner->second != source) {
    troubles_->once("twice " + reading.channel,
                    fmt::format("'{}' comes from {} and from {}; give one of them a 'prefix'",
                                shown(reading.channel), owner->second, source));
  }
  return true;
}

void Gate::watch(Delivery& delivery) {
  auto& clock = clocks_[delivery.source];
  const auto arrival = now();
  for (const auto& reading : delivery.readings) {
    if (!reading.stamped) continue;
    const auto step = clock.see(reading.at, arrival);
    if (!step) continue;
    delivery.remarks.push_back({step->at, arrival, step_sentence(delivery.source, *step)});
    troubles_->now(delivery.remarks.back().text);
  }
}

void Gate::pass(Delivery& delivery) {
  watch(delivery);
  std::erase_if(delivery.readings,
                [&](Reading& reading) { return !name(reading, delivery.source); });
}

std::optional<Remark> Gate::look_at_host() {
  const auto wall = now();
  const auto step = host_.look(wall, std::chrono::steady_clock::now());
  if (!step) return std::nullopt;
  Remark remark{wall, wall,
                fmt::format("this computer's clock was set {} by {}",
                            step->count() > 0 ? "forward" : "back", span_text(*step))};
  troubles_->now(remark.text);
  return remark;
}

}  // namespace pitwright::feed
