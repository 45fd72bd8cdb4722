#pragma once

#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <unordered_set>

namespace pitwright::wire {

/// One event as it goes over the wire, shared by all who are sent it.
using Frame = std::shared_ptr<const std::string>;

/// What one viewer has still to be sent: never more than the hub's `waiting`.
struct Viewer {
  std::string topic;
  std::deque<Frame> waiting;
  std::function<void()> wake;  ///< called whenever `waiting` got something
};

/// Sends events to everybody who watches a topic. Not for two threads at once: it lives on the
/// server's thread.
///
/// A viewer that reads too slowly loses its backlog and is told so by one event `lost`, after which
/// it asks again for what it shows; so memory is bounded by viewers x waiting, and by topics x
/// kept.
class Hub {
 public:
  struct Options {
    std::size_t kept = 256;    ///< events a topic remembers for those who come back
    std::size_t waiting = 64;  ///< events a viewer may be behind
  };

  /// `first_id`: identifiers count up from here; a later hub must begin higher, as a clock does.
  explicit Hub(std::uint64_t first_id) : Hub(first_id, Options()) {}
  Hub(std::uint64_t first_id, Options options);

  /// Sends to all viewers of the topic, and keeps it for those who come back. `data` holds no line
  /// break.
  void publish(const std::string& topic, std::string_view name, std::string_view data);

  /// A new viewer; `after`: the events after this identifier come first, or `lost` where they are
  /// gone.
  std::shared_ptr<Viewer> join(const std::string& topic, std::optional<std::uint64_t> after,
                               std::function<void()> wake);
  void leave(const std::shared_ptr<Viewer>& viewer);

  std::size_t viewers() const { return viewers_.size(); }
  bool is_watched(const std::string& topic) const;
  std::set<std::string> watched() const;        ///< all topics with a viewer
  std::uint64_t lost() const { return lost_; }  ///< how often a viewer lost its backlog

 private:
  struct Kept {
    std::uint64_t id;
    Frame frame;
  };
  struct Topic {
    std::deque<Kept> kept;
    std::uint64_t forgotten;  ///< newest identifier that is no longer kept
  };
  void send(Viewer& viewer, const Frame& frame);

  Options options_;
  std::uint64_t first_id_;
  std::uint64_t next_id_;
  std::uint64_t lost_ = 0;
  std::map<std::string, Topic> topics_;
  std::unordered_set<std::shared_ptr<Viewer>> viewers_;
};

}  // namespace pitwright::wire
