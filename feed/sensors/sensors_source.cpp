#include "sensors/sensors_source.h"

#include <chrono>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "payload/payload.h"
#include "sensors/thermometers.h"

namespace pitwright::feed {
namespace {

using std::chrono::milliseconds;
using std::chrono::steady_clock;

std::vector<Reading> read_all(const SensorsFeed& feed, const std::vector<Thermometer>& all,
                              const Outlet& outlet, Troubles& troubles) {
  std::vector<Reading> readings;
  for (const auto& one : all) {
    if (outlet.stopping()) break;
    const auto celsius = read_celsius(one);
    const auto stored = celsius ? stored_value(*celsius, logs::ChannelUnit::celsius) : std::nullopt;
    const auto kind = fmt::format("{}: {}", feed.name, one.channel);
    if (!stored) {
      troubles.once(
          kind, fmt::format("{}: {}", kind,
                            celsius ? "shows what no thermometer shows" : celsius.error().what));
      continue;
    }
    troubles.over(kind);
    readings.push_back({one.channel,
                        std::chrono::floor<milliseconds>(std::chrono::system_clock::now()), *stored,
                        false});
  }
  return readings;
}

}  // namespace

Result<void> run_sensors(const SensorsFeed& feed, Outlet& outlet, Troubles& troubles) {
  constexpr std::chrono::seconds look_again{30};
  std::vector<Thermometer> all;
  auto looked = steady_clock::now() - look_again;
  auto next = steady_clock::now();
  while (!outlet.stopping()) {
    const auto now = steady_clock::now();
    if (now - looked >= look_again) {
      all = find_thermometers(feed.root);
      looked = now;
      if (all.empty()) {
        troubles.once(feed.name + ": none",
                      fmt::format("{}: no thermometer under {}; looking again", feed.name,
                                  feed.root.string()));
      }
    }
    auto readings = read_all(feed, all, outlet, troubles);
    if (!readings.empty() && !outlet.deliver({feed.name, std::move(readings), {}})) return {};
    next = std::max(next + feed.every, steady_clock::now());
    if (outlet.pause(std::chrono::duration_cast<milliseconds>(next - steady_clock::now()))) break;
  }
  return {};
}

}  // namespace pitwright::feed
