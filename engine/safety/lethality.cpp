#include "safety/lethality.h"

#include <algorithm>

#include "base/expects.h"

namespace pitwright::safety {
namespace {

double fahrenheit(double celsius) {
  return celsius * 1.8 + 32.0;
}

/// The walk over one row.
struct RowWalk {
  RowTime time;
  double stretch_s = 0.0;  ///< of the stretch that is going on

  void step(double end_s, double length_s, double lower_f, bool adds_up) {
    if (lower_f + rounding_k * 1.8 < time.row.at_f) {
      stretch_s = 0.0;
      return;
    }
    stretch_s += length_s;
    const double before = time.held_s;
    time.held_s = adds_up ? before + length_s : std::max(before, stretch_s);
    constexpr double slack_s = 1e-6;  // of adding up times
    if (!time.met_s && time.held_s + slack_s >= time.row.dwell_s) time.met_s = end_s;
  }
};

void note_best(Lethality& out) {
  double largest = 0.0;
  for (std::size_t i = 0; i < out.rows.size(); ++i) {
    const auto& one = out.rows[i];
    if (one.met_s && (!out.met_s || *one.met_s < *out.met_s)) {
      out.met = i;
      out.met_s = one.met_s;
    }
    if (one.row.dwell_s <= 0.0 || one.held_s <= 0.0) continue;
    const double share = one.held_s / one.row.dwell_s;
    if (share > largest) {
      largest = share;
      out.nearest = i;
    }
  }
  if (out.met) out.nearest = out.met;
}

}  // namespace

Lethality lethality_of(const Trace& trace, const Rule& rule, Reading reading) {
  expects(rule.kind == RuleKind::cooking && !rule.rows.empty());
  const auto& celsius = reading == Reading::credited ? trace.credited_c : trace.coldest_c;
  Lethality out;
  if (rule.target_log > 0.0) out.log_reduction = 0.0;
  std::vector<RowWalk> walks;
  for (const auto& row : rule.rows) walks.push_back({{row, 0.0, {}}, 0.0});
  for (std::size_t i = 1; i < trace.seconds.size(); ++i) {
    if (!trace.joined[i]) {
      for (auto& walk : walks) walk.stretch_s = 0.0;
      continue;
    }
    const double length_s = trace.seconds[i] - trace.seconds[i - 1];
    const double lower_f = fahrenheit(std::min(celsius[i - 1], celsius[i]));
    for (auto& walk : walks) walk.step(trace.seconds[i], length_s, lower_f, rule.adds_up);
    if (!out.log_reduction) continue;
    const double dwell_s = dwell_at_s(rule.rows, lower_f + rounding_k * 1.8);
    *out.log_reduction += rule.target_log * length_s / dwell_s;
    if (!out.target_reached_s && *out.log_reduction >= rule.target_log)
      out.target_reached_s = trace.seconds[i];
  }
  for (auto& walk : walks) out.rows.push_back(walk.time);
  note_best(out);
  return out;
}

}  // namespace pitwright::safety
