#pragma once

#include <filesystem>

#include "feeds/feed_document.h"
#include "readings/outlet.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// Takes what a broker has until the feed ends: connects, connects again with growing pauses, and
/// acknowledges a message once its readings are durable. Runs on a thread of its own.
/// `memory` is a folder where it keeps what it must remember between two runs; empty: nowhere.
/// Fails: bad_input for settings that cannot work (certificates, passwords); before that it waits
/// for nothing.
Result<void> run_mqtt(const MqttFeed& feed, const std::filesystem::path& memory, Outlet& outlet,
                      Troubles& troubles);

/// Whether a topic fits a filter (MQTT 5.0 section 4.7): '+' and '#' do not match a first level
/// that starts with '$'.
bool topic_fits(std::string_view filter, std::string_view topic);

}  // namespace pitwright::feed
