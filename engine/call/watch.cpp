#include "call/watch.h"

#include <algorithm>
#include <cstring>
#include <span>
#include <tuple>

#include "call/verdict.h"

namespace pitwright::call {
namespace {

/// The burn as it was known at a moment: no later reading, no later event. The stints stay: they
/// are the plan, and windows look no further than the moment.
Burn known_at(Burn burn, double now_s) {
  for (auto& probe : burn.probes) {
    auto& [seconds, values] = probe.readings;
    const auto count = std::ranges::upper_bound(seconds, now_s) - seconds.begin();
    seconds.resize(static_cast<std::size_t>(count));
    values.resize(static_cast<std::size_t>(count));
  }
  std::erase_if(burn.events, [=](const Event& event) { return event.at_s > now_s; });
  for (auto& event : burn.events)
    if (event.until_s && *event.until_s > now_s) event.until_s.reset();
  return burn;
}

/// When the last stint closed before or at now.
std::optional<double> last_close_s(const Burn& burn, double now_s) {
  std::optional<double> last;
  for (const auto& stint : burn.stints)
    if (stint.to_s <= now_s) last = std::max(last.value_or(stint.to_s), stint.to_s);
  return last;
}

/// Bit for bit: missing readings are NaN and equal themselves.
bool same_bits(std::span<const double> a, std::span<const double> b) {
  return a.size() == b.size() &&
         (a.empty() || std::memcmp(a.data(), b.data(), a.size_bytes()) == 0);
}

auto key_of(const Probe& p) {
  return std::tie(p.channel, p.role, p.spot, p.grate, p.x_m, p.y_m, p.z_m, p.correction,
                  p.uncertainty);
}

bool same(const Probe& a, const Probe& b) {
  return key_of(a) == key_of(b) && same_bits(a.readings.seconds, b.readings.seconds) &&
         same_bits(a.readings.values, b.readings.values);
}

bool same(const Stint& a, const Stint& b) {
  return a.setting == b.setting && a.from_s == b.from_s && a.to_s == b.to_s;
}

bool same(const Event& a, const Event& b) {
  return std::tie(a.kind, a.at_s, a.until_s, a.channel) ==
         std::tie(b.kind, b.at_s, b.until_s, b.channel);
}

/// Do the burns agree in everything that a verdict's words rest on?
bool same(const Burn& a, const Burn& b) {
  const auto equal = [](const auto& x, const auto& y) {
    return std::ranges::equal(x, y, [](const auto& p, const auto& q) { return same(p, q); });
  };
  return a.matters == b.matters && equal(a.stints, b.stints) && equal(a.events, b.events) &&
         equal(a.probes, b.probes);
}

}  // namespace

const Report* Watch::at_close(const Burn& burn, double now_s) {
  const auto close_s = last_close_s(burn, now_s);
  if (!close_s) return nullptr;
  auto known = known_at(burn, *close_s);
  if (last_ && last_->report.live->as_known_at_s == close_s && same(last_->known, known))
    return &last_->report;
  last_.reset();
  auto report = verdict(known, {.as_known_at_s = close_s, .needs_stints = false}, nullptr);
  if (!report) return nullptr;
  last_.emplace(std::move(known), std::move(*report));
  return &last_->report;
}

Result<Report> Watch::look(const Burn& burn, double now_s, bool needs_stints) {
  const Report* close = at_close(burn, now_s);
  // At the close itself the verdict is the one that is kept; only the outlook may be missing.
  const bool is_the_close = close != nullptr && close->live->as_known_at_s == now_s;
  if (is_the_close && !needs_stints) return *close;
  return verdict(known_at(burn, now_s), {.as_known_at_s = now_s, .needs_stints = needs_stints},
                 is_the_close ? nullptr : close);
}

}  // namespace pitwright::call
