#pragma once

#include <string>

#include "base/result.h"
#include "rehearse/rehearse.h"

namespace pitwright::cli {

/// How a made-up burn is played.
struct LivePlay {
  double speed = 1.0;  ///< burn seconds a second
  std::string where;   ///< mqtt://host:port/topic
};

/// Publishes a made-up burn to a broker as if its loggers sent every row when they took it, `speed`
/// times as fast. The stamps are such that the last row is stamped when it is sent.
/// Fails: bad_input for a bad address or speed; unavailable where the broker is not reached.
Result<void> play_live(const rehearse::RehearsedBurn& made, const LivePlay& play);

}  // namespace pitwright::cli
