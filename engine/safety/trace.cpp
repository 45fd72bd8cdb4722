#include "safety/trace.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pitwright::safety {
namespace {

constexpr double shortest_gap_s = 120.0;
constexpr double longest_gap_s = 900.0;
constexpr double infinity = std::numeric_limits<double>::infinity();

double usual_step_s(const std::vector<double>& seconds) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < seconds.size(); ++i) steps.push_back(seconds[i] - seconds[i - 1]);
  if (steps.empty()) return infinity;
  const auto middle = steps.begin() + std::ssize(steps) / 2;
  std::ranges::nth_element(steps, middle);
  return *middle;
}

/// One probe's usable readings.
struct Watched {
  std::vector<double> seconds, corrected_c, tolerance_k;
  double from_s = infinity, to_s = -infinity;  ///< in place, readings or not
  double longest_s = 0.0;
  bool by_hand = false;
  std::size_t at = 0;  ///< of the walk: first reading not before the moment
};

struct Value {
  double c = 0.0, tolerance_k = 0.0;
};

Watched watched(const Probe& probe, double from_s, Trace& trace) {
  Watched out;
  const auto& readings = probe.readings;
  for (std::size_t i = 0; i < readings.seconds.size(); ++i) {
    const double at = readings.seconds[i];
    if (at < from_s) continue;
    out.from_s = std::min(out.from_s, at);
    out.to_s = at;
    const double raw = readings.values[i];
    if (std::isnan(raw)) continue;
    const double corrected = raw + correction_k(probe, raw);
    if (!(corrected >= coldest_food_c && corrected <= hottest_food_c)) {
      trace.dropped += 1.0;
      continue;
    }
    const auto told = uncertainty_k(probe, raw);
    if (!told) trace.unchecked = true;
    out.seconds.push_back(at);
    out.corrected_c.push_back(corrected);
    out.tolerance_k.push_back(told.value_or(unchecked_k));
  }
  out.longest_s = longest_step_s(out.seconds);
  out.by_hand = usual_step_s(out.seconds) > longest_gap_s;
  return out;
}

/// The probe at a moment; nullopt where it has no reading near enough on both sides.
std::optional<Value> value_at(Watched& probe, double at) {
  const auto& s = probe.seconds;
  while (probe.at < s.size() && s[probe.at] < at) ++probe.at;
  if (probe.at == s.size()) return std::nullopt;
  const auto i = probe.at;
  if (s[i] == at) return Value{probe.corrected_c[i], probe.tolerance_k[i]};
  if (i == 0 || s[i] - s[i - 1] > probe.longest_s) return std::nullopt;
  const double w = (at - s[i - 1]) / (s[i] - s[i - 1]);
  return Value{(1.0 - w) * probe.corrected_c[i - 1] + w * probe.corrected_c[i],
               std::max(probe.tolerance_k[i - 1], probe.tolerance_k[i])};
}

/// Whether a probe in place saw the whole stretch from `a` to `b`, both moments of the trace.
bool saw(const Watched& probe, double a, double b) {
  const auto after = std::ranges::lower_bound(probe.seconds, b);
  if (after == probe.seconds.begin() || after == probe.seconds.end()) return false;
  const double before = *std::prev(after);
  return before <= a ? *after - before <= probe.longest_s : b - before <= probe.longest_s;
}

bool all_saw(const std::vector<Watched>& probes, double a, double b) {
  bool any = false;
  for (const auto& probe : probes) {
    const bool in_place = probe.from_s < b && probe.to_s > a;
    if (!in_place || probe.by_hand) continue;
    if (!saw(probe, a, b)) return false;
    any = true;
  }
  return any;
}

/// Appends the moment; nothing where no probe has a value then.
void add_moment(Trace& trace, std::vector<Watched>& probes, double at) {
  double coldest = infinity, credited = infinity;
  double warmest = -infinity, warm_high = -infinity;
  for (auto& probe : probes) {
    const auto value = value_at(probe, at);
    if (!value) continue;
    coldest = std::min(coldest, value->c);
    credited = std::min(credited, value->c - value->tolerance_k);
    warmest = std::max(warmest, value->c);
    warm_high = std::max(warm_high, value->c + value->tolerance_k);
  }
  if (coldest == infinity) return;
  const bool first = trace.seconds.empty();
  const bool joined = !first && all_saw(probes, trace.seconds.back(), at);
  trace.seconds.push_back(at);
  trace.coldest_c.push_back(coldest);
  trace.credited_c.push_back(credited);
  trace.warmest_c.push_back(warmest);
  trace.warm_high_c.push_back(warm_high);
  trace.joined.push_back(joined);
}

/// Part of a unit stretch, from `first` to `last`; none where last <= first.
struct Part {
  double first = 0.0, last = 1.0;
  double size() const { return std::max(0.0, last - first); }
};

Part both(Part a, Part b) {
  return {std::max(a.first, b.first), std::min(a.last, b.last)};
}

/// Where a straight line from a to b lies below the limit.
Part below(double a, double b, double limit) {
  if (a < limit && b < limit) return {};
  if (a >= limit && b >= limit) return {0.0, 0.0};
  const double crossing = (limit - a) / (b - a);
  return a < limit ? Part{0.0, crossing} : Part{crossing, 1.0};
}

Part above(double a, double b, double limit) {
  return below(-a, -b, -limit);
}

}  // namespace

double longest_step_s(const std::vector<double>& seconds) {
  const double usual = usual_step_s(seconds);
  if (usual == infinity) return shortest_gap_s;
  return std::clamp(3.0 * usual, shortest_gap_s, longest_gap_s);
}

Trace trace_of(const Burn& burn, const std::string& piece, std::optional<double> from_s) {
  Trace trace;
  std::vector<Watched> probes;
  std::vector<double> moments;
  for (const auto& probe : burn.probes) {
    if (probe.role != Role::food || probe.piece != piece) continue;
    auto one = watched(probe, from_s.value_or(-infinity), trace);
    ++trace.probes;
    moments.insert(moments.end(), one.seconds.begin(), one.seconds.end());
    probes.push_back(std::move(one));
  }
  std::ranges::sort(moments);
  const auto repeated = std::ranges::unique(moments);
  moments.erase(repeated.begin(), repeated.end());
  for (const double at : moments) add_moment(trace, probes, at);
  return trace;
}

BandTime time_between(const Trace& trace, Band band, double from_s, double to_s) {
  BandTime time;
  if (!(to_s > from_s)) return time;
  if (trace.empty()) {
    time.unread_s = time.most_s = to_s - from_s;
    return time;
  }
  time.unread_s = std::max(0.0, std::min(trace.seconds.front(), to_s) - from_s) +
                  std::max(0.0, to_s - std::max(trace.seconds.back(), from_s));
  for (std::size_t i = 1; i < trace.seconds.size(); ++i) {
    const double a = trace.seconds[i - 1], b = trace.seconds[i];
    const Part wanted{std::max(0.0, (from_s - a) / (b - a)), std::min(1.0, (to_s - a) / (b - a))};
    if (wanted.size() <= 0.0) continue;
    if (!trace.joined[i]) {
      time.unread_s += wanted.size() * (b - a);
      continue;
    }
    const Part cold = below(trace.coldest_c[i - 1], trace.coldest_c[i], band.high_c);
    const Part warm = above(trace.warmest_c[i - 1], trace.warmest_c[i], band.low_c);
    time.read_s += both(both(cold, warm), wanted).size() * (b - a);
    const Part may_cold = below(trace.credited_c[i - 1], trace.credited_c[i], band.high_c);
    const Part may_warm = above(trace.warm_high_c[i - 1], trace.warm_high_c[i], band.low_c);
    time.most_s += both(both(may_cold, may_warm), wanted).size() * (b - a);
  }
  time.most_s += time.unread_s;
  return time;
}

BandTime time_below(const Trace& trace, double limit_c, double from_s, double to_s) {
  return time_between(trace, {-infinity, limit_c}, from_s, to_s);
}

}  // namespace pitwright::safety
