#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <set>
#include <string>

#include "db/store.h"
#include "live/worked.h"
#include "wire/hub.h"

namespace pitwright::live {

/// What viewers of a burn watch.
std::string topic_of(db::BurnId burn, Scale scale);

/// The fire document of a burn as it stands; `now` is the wall's clock.
std::string fire_document(const Standing& standing, const WorkedCall& call, Scale scale,
                          db::Stamp now);

/// Looks into the store for what arrived, by whatever way, and tells those who watch: the newest
/// readings at once, the fire at most every `calm`, and which documents changed.
///
/// look() belongs to the server's thread; the calls are made on the worker's.
class Watch {
 public:
  struct Options {
    std::chrono::milliseconds calm{5000};  ///< between two calls of a burn
    std::chrono::milliseconds silence{
        30000};  ///< after which the fire is told again though nothing came
  };
  /// How the watch reaches the two threads.
  struct Threads {
    std::function<void(std::function<void()>)> on_worker;
    std::function<void(std::function<void(wire::Hub&)>)> on_server;
  };

  /// `quick` is the server thread's store, `worked` the worker's.
  Watch(db::Store& quick, Worked& worked, Threads threads, std::function<db::Stamp()> now)
      : Watch(quick, worked, std::move(threads), std::move(now), Options()) {}
  Watch(db::Store& quick, Worked& worked, Threads threads, std::function<db::Stamp()> now,
        Options options);

  void look(wire::Hub& hub);

  /// Newest trouble of the store, for /metrics; empty: none at the last look.
  const std::string& trouble() const { return trouble_; }

 private:
  using Clock = std::chrono::steady_clock;
  struct Seen {
    db::Sequence sequence = 0;
    std::shared_ptr<Burn> newest;  ///< every probe with its last reading only
    Clock::time_point fire_at{};   ///< when the fire was last asked for
    bool fire_due = true;
    bool fire_pending = false;
    bool is_out = false;             ///< those who watch were told that it is over
    std::set<std::string> unplaced;  ///< channels that sit nowhere: nobody is shown them
    std::string call;                ///< the last call told, to see whether it changed
  };
  Result<void> look_at(wire::Hub& hub, const db::BurnLine& line, Seen& seen);
  Result<void> start(const db::BurnLine& line, Seen& seen);
  Result<void> take_in(const db::BurnLine& line, Seen& seen);
  /// What a look at the whole burn tells: fires by scale, and the call; on the worker's thread.
  struct Told {
    std::map<Scale, std::string> fires;
    std::string call;
  };
  Told work_out(db::BurnId burn);
  void ask_for_fire(const db::BurnLine& line, Seen& seen);
  void tell(wire::Hub& hub, db::BurnId burn, Told worked_out);

  db::Store& quick_;
  Worked& worked_;
  Threads threads_;
  std::function<db::Stamp()> now_;
  Options options_;
  std::map<db::BurnId, Seen> seen_;
  std::string trouble_;
};

}  // namespace pitwright::live
