#include "safety/cooling.h"

#include <algorithm>
#include <vector>

namespace pitwright::safety {
namespace {

double celsius(double fahrenheit) {
  return (fahrenheit - 32.0) / 1.8;
}

/// Last index at or above the limit; nullopt: never.
std::optional<std::size_t> last_at_or_above(const std::vector<double>& values, double limit) {
  for (std::size_t i = values.size(); i-- > 0;) {
    if (values[i] + rounding_k >= limit) return i;
  }
  return std::nullopt;
}

/// The moment between readings i and i + 1 at which the line crosses the limit; the first of them
/// where nobody watched in between.
double left_at(const Trace& trace, const std::vector<double>& values, std::size_t i, double limit) {
  const double a = values[i], b = values[i + 1];
  if (!trace.joined[i + 1] || a <= limit) return trace.seconds[i];
  return trace.seconds[i] + (a - limit) / (a - b) * (trace.seconds[i + 1] - trace.seconds[i]);
}

/// First moment after `from_s` at or below the limit; the later reading where nobody watched.
std::optional<double> reached_at(const Trace& trace, const std::vector<double>& values,
                                 double limit, double from_s) {
  for (std::size_t i = 1; i < values.size(); ++i) {
    if (trace.seconds[i] < from_s || values[i] > limit + rounding_k) continue;
    const double a = values[i - 1], b = values[i];
    if (!trace.joined[i] || a <= limit || a == b) return trace.seconds[i];
    const double at =
        trace.seconds[i - 1] + (a - limit) / (a - b) * (trace.seconds[i] - trace.seconds[i - 1]);
    return std::max(at, from_s);
  }
  return std::nullopt;
}

/// Over one minute at least, so that the last digit of a display does not look like a fall.
bool fell_too_fast(const Trace& trace, double began_s) {
  constexpr double shortest_s = 60.0;
  std::size_t earlier = 0;
  for (std::size_t i = 1; i < trace.seconds.size(); ++i) {
    while (earlier + 1 < i && trace.seconds[i] - trace.seconds[earlier + 1] >= shortest_s)
      ++earlier;
    const double length_s = trace.seconds[i] - trace.seconds[earlier];
    if (trace.seconds[earlier] < began_s || length_s < shortest_s) continue;
    if (trace.warmest_c[earlier] - trace.warmest_c[i] > fastest_cooling_k_s * length_s) return true;
  }
  return false;
}

CooledStep step_of(const Trace& trace, const CoolingStep& step, double began_s) {
  CooledStep out;
  out.step = step;
  const double upper = celsius(step.from_f), lower = celsius(step.to_f);
  const auto above = last_at_or_above(trace.warmest_c, upper);
  if (!above || *above + 1 >= trace.seconds.size()) return out;
  out.from_s = std::max(began_s, left_at(trace, trace.warmest_c, *above, upper));
  out.to_s = reached_at(trace, trace.warmest_c, lower, *out.from_s);
  out.took_s = out.to_s.value_or(trace.seconds.back()) - *out.from_s;
  const auto surely_down = reached_at(trace, trace.warm_high_c, lower, *out.from_s);
  const bool late = out.took_s > step.within_s + rounding_k;
  const bool surely = surely_down && *surely_down - *out.from_s <= step.within_s + rounding_k;
  if (late)
    out.verdict = Verdict::not_met;
  else if (surely)
    out.verdict = Verdict::met;
  else
    out.verdict = out.to_s ? Verdict::open : Verdict::no_record;
  return out;
}

}  // namespace

std::optional<double> cooling_began(const Trace& trace, const Rule& rule) {
  if (trace.empty() || rule.steps.empty()) return std::nullopt;
  const double limit = celsius(rule.steps.front().from_f);
  const auto above = last_at_or_above(trace.warmest_c, limit);
  if (!above || *above + 1 >= trace.seconds.size()) return std::nullopt;
  return left_at(trace, trace.warmest_c, *above, limit);
}

Cooled cooled_of(const Trace& trace, const Rule& rule, bool was_chosen, double began_s) {
  Cooled out{&rule, was_chosen, fell_too_fast(trace, began_s), {}};
  for (const auto& step : rule.steps) {
    out.steps.push_back(step_of(trace, step, began_s));
    auto& verdict = out.steps.back().verdict;
    if (out.too_fast && verdict == Verdict::met) verdict = Verdict::open;
  }
  return out;
}

}  // namespace pitwright::safety
