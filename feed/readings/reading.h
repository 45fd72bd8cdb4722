#pragma once

#include <chrono>
#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"

namespace pitwright::feed {

/// A moment in UTC, as readings carry it.
using Moment = std::chrono::sys_time<std::chrono::microseconds>;

/// One reading on its way into the store.
struct Reading {
  std::string channel;
  Moment at;             ///< when it was taken, by its source; else when it arrived here
  double value = 0.0;    ///< degC (km/h for wind, % for drive); NaN: the sensor said "missing"
  bool stamped = false;  ///< the source said when
};

/// Something that a person who reads the burn later must know: a clock that was set.
struct Remark {
  Moment at;       ///< the stamp it is about
  Moment written;  ///< by this computer's clock
  std::string text;
};

/// What one source hands over at a time: stored as a whole before the source goes on.
struct Delivery {
  std::string source;
  std::vector<Reading> readings;
  std::vector<Remark> remarks;
};

/// What became of the readings of a batch.
struct Taken {
  std::int64_t stored = 0;
  std::int64_t again = 0;      ///< there already with the same value
  std::int64_t differing = 0;  ///< there already with another value, which stays
  std::int64_t late = 0;       ///< of those stored: earlier than one its channel had before
};

/// Where deliveries go. Returns only once they are durable; an error means that nothing of the
/// batch can be relied on, and the same batch is offered again.
using Sink = std::function<Result<Taken>(std::span<const Delivery>)>;

/// What is done to a delivery once, before it is offered to the sink.
using Prepare = std::function<void(Delivery&)>;

/// Says something to the person at the terminal; may be called from any thread.
using Say = std::function<void(const std::string&)>;

}  // namespace pitwright::feed
