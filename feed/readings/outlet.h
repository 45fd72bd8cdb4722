#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <mutex>
#include <optional>
#include <vector>

#include "readings/reading.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// The narrow place between the sources, each on a thread of its own, and the store, which belongs
/// to one thread.
///
/// A source waits in deliver() until its readings are durable, so each source has at most one
/// delivery under way: while the store is away sources stop reading, and memory stays as it is.
/// Deliveries of several sources that wait at the same time go into the store together.
class Outlet {
 public:
  /// Called by sources. True: everything in it is durable. False: the feed is ending, and nothing
  /// of it may be acknowledged.
  bool deliver(Delivery delivery);

  /// Ends all waiting; deliver() gives false from now on.
  void stop();
  bool stopping() const;

  /// Sleeps up to `span`; true where the feed is ending.
  bool pause(std::chrono::milliseconds span);

  /// Called by the store's thread: waits up to `span` for deliveries and stores them. On failure it
  /// keeps them and tries again at the next call, saying so once. Gives what became of them.
  struct Stored {
    Taken taken;
    std::vector<Delivery> deliveries;
  };
  std::optional<Stored> serve(const Prepare& prepare, const Sink& sink,
                              std::chrono::milliseconds span, Troubles& troubles);

 private:
  struct Waiting {
    Delivery delivery;
    bool durable = false;
    bool given_up = false;
  };
  mutable std::mutex mutex_;
  std::condition_variable arrived_, settled_, ending_;
  std::deque<Waiting*> waiting_;
  std::vector<Waiting*> in_hand_;  ///< being stored
  std::vector<Delivery> batch_;    ///< what they hold
  std::chrono::milliseconds back_off_{0};
  bool stopping_ = false;
};

}  // namespace pitwright::feed
