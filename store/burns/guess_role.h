#pragma once

#include <optional>
#include <string_view>

#include "logs/log.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// What a channel probably measures, by the words of its name and its unit; nullopt where it is
/// nothing that a burn uses (humidity, a battery ...). Air unless something speaks against it.
/// Common practice, no source: the words people give their channels.
std::optional<Role> guessed_role(std::string_view name, logs::ChannelUnit unit);

}  // namespace pitwright::burns
