#include "running/run_feed.h"

#include <algorithm>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include <fmt/chrono.h>
#include <fmt/format.h>

#include "hand/hand_line.h"
#include "mqtt/mqtt_source.h"
#include "readings/clock_watch.h"
#include "readings/outlet.h"
#include "readings/troubles.h"
#include "running/gate.h"
#include "running/into_store.h"
#include "sensors/sensors_source.h"
#include "tail/tail_source.h"

namespace pitwright::feed {
namespace {

using std::chrono::steady_clock;

void add(Taken& sum, const Taken& more) {
  sum.stored += more.stored;
  sum.again += more.again;
  sum.differing += more.differing;
  sum.late += more.late;
}

/// The sources at work.
class Sources {
 public:
  Sources(Outlet& outlet, Troubles& troubles) : outlet_(outlet), troubles_(troubles) {}
  ~Sources() { end(); }
  Sources(const Sources&) = delete;
  Sources& operator=(const Sources&) = delete;

  template <typename Work>
  void start(Work work) {
    ++running_;
    threads_.emplace_back([this, work = std::move(work)] {
      const Result<void> ended = work(outlet_, troubles_);
      if (!ended) {
        troubles_.now(ended.error().what);
        const std::scoped_lock lock(mutex_);
        ++failed_;
        if (!error_) error_ = ended.error();
      }
      --running_;
    });
  }
  bool all_ended() const { return running_ == 0; }
  /// The first error, where every source failed.
  std::optional<Error> all_failed() {
    const std::scoped_lock lock(mutex_);
    return failed_ == threads_.size() ? error_ : std::nullopt;
  }
  void end() {
    outlet_.stop();
    for (auto& thread : threads_) {
      if (thread.joinable()) thread.join();
    }
  }

 private:
  Outlet& outlet_;
  Troubles& troubles_;
  std::atomic<int> running_ = 0;
  std::mutex mutex_;
  std::size_t failed_ = 0;
  std::optional<Error> error_;
  std::vector<std::thread> threads_;
};

/// The line a minute.
class Minute {
 public:
  explicit Minute(std::chrono::seconds every) : every_(every), next_(steady_clock::now() + every) {}

  void count(const Outlet::Stored& stored) {
    add(taken_, stored.taken);
    for (const auto& delivery : stored.deliveries) {
      for (const auto& reading : delivery.readings) {
        channels_.insert(reading.channel);
        latest_ = std::max(latest_.value_or(reading.at), reading.at);
      }
    }
  }

  std::optional<std::string> due() {
    if (steady_clock::now() < next_) return std::nullopt;
    next_ = steady_clock::now() + every_;
    auto line = fmt::format("{} stored from {} channels", taken_.stored, channels_.size());
    if (taken_.again > 0) line += fmt::format(", {} there already", taken_.again);
    if (taken_.late > 0) line += fmt::format(", {} of them late", taken_.late);
    if (taken_.differing > 0) {
      line += fmt::format(", {} not: another value has their channel and stamp", taken_.differing);
    }
    if (latest_) line += fmt::format("; latest {}", utc_text(*latest_));
    taken_ = {};
    channels_.clear();
    return line;
  }

 private:
  std::chrono::seconds every_;
  steady_clock::time_point next_;
  Taken taken_;
  std::set<std::string> channels_;
  std::optional<Moment> latest_;
};

void start_all(const FeedDocument& document, const Running& running, Sources& sources,
               Troubles& troubles) {
  const auto& memory = running.memory;
  for (const auto& feed : document.mqtt) {
    sources.start([&](Outlet& out, Troubles& told) { return run_mqtt(feed, memory, out, told); });
  }
  for (const auto& feed : document.files) {
    sources.start([&](Outlet& out, Troubles& told) { return run_tail(feed, memory, out, told); });
  }
  for (const auto& feed : document.sensors) {
    sources.start([&](Outlet& out, Troubles& told) { return run_sensors(feed, out, told); });
  }
  for (const auto& feed : document.hand) {
    const int terminal = running.terminal;
    sources.start([&feed, terminal](Outlet& out, Troubles& told) {
      return run_hand(feed, terminal, out, told);
    });
  }
  for (const auto& feed : document.http) {
    troubles.now(
        fmt::format("{}: lines over HTTP are taken by the server, not by this command", feed.name));
  }
}

}  // namespace

Result<RunReport> run_feed(const FeedDocument& document, db::Store& store, const Running& running) {
  constexpr std::chrono::milliseconds breath{200};
  std::error_code problem;
  if (!running.memory.empty()) std::filesystem::create_directories(running.memory, problem);
  if (problem) {
    return fail(ErrorKind::unavailable, "{}: cannot be made: {}", running.memory.string(),
                problem.message());
  }
  Troubles troubles(running.say);
  Outlet outlet;
  Gate gate(document, troubles);
  Minute minute(running.line_every);
  RunReport report;
  const auto prepare = [&gate](Delivery& delivery) { gate.pass(delivery); };
  const auto sink = [&](std::span<const Delivery> deliveries) {
    return into_store(store, running.burn, deliveries, troubles);
  };
  Sources sources(outlet, troubles);
  start_all(document, running, sources, troubles);
  std::vector<Delivery> remarks;
  while (!sources.all_ended() && (running.stop == nullptr || !*running.stop)) {
    if (const auto stored = outlet.serve(prepare, sink, breath, troubles)) {
      minute.count(*stored);
      add(report.taken, stored->taken);
      if (stored->taken.differing > 0) {
        troubles.once("differing", fmt::format("{} readings have a channel and stamp that another "
                                               "value has already; the first one stays",
                                               stored->taken.differing));
      }
    }
    if (auto remark = gate.look_at_host()) {
      remarks.push_back({"this computer", {}, {std::move(*remark)}});
    }
    if (!remarks.empty() && sink(remarks)) remarks.clear();
    if (const auto line = minute.due()) running.say(*line);
  }
  sources.end();
  report.troubles = troubles.total();
  if (const auto error = sources.all_failed()) return std::unexpected(*error);
  return report;
}

}  // namespace pitwright::feed
