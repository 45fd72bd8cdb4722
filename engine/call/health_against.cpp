// Checks of one probe against all others: steps of its own, and touching metal.

#include <algorithm>
#include <cmath>
#include <limits>

#include "call/health.h"
#include "series/moments.h"
#include "series/robust.h"
#include "series/smooth.h"
#include "series/swing.h"

namespace pitwright::call {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

constexpr double coarse_step_s = 20.0;
constexpr double jump_smallest_k = 5.0;
constexpr double jump_noise_sds = 6.0;
constexpr double jump_side_s = 180.0;  ///< medians are taken over this on either side
constexpr double jump_stays_s = 480.0;
constexpr double jump_quiet_before_s = 120.0, jump_quiet_after_s = 480.0;  ///< of known moments
constexpr double touching_share = 0.65;
constexpr double touching_late_cycles = 0.045;  ///< 16 degrees of a cycle
constexpr double touching_likeness = 0.5;
constexpr double aperiodic_cycle_s = 1200.0;  ///< where there is no swing
constexpr double aperiodic_share = 0.4;

/// All columns on moments of about coarse_step_s, each less the mean of the others.
struct Coarse {
  double step_s;
  std::vector<std::vector<double>> columns;
  std::vector<std::vector<double>> others;
};

Coarse coarse_of(const std::vector<Column>& columns, const series::Moments& m, double step_s) {
  const int every = std::max(1, static_cast<int>(std::lround(step_s / m.step_s)));
  Coarse out{m.step_s * every, {}, {}};
  for (const Column& c : columns) out.columns.push_back(series::thinned(c.celsius, every));
  const std::vector<std::span<const double>> spans(out.columns.begin(), out.columns.end());
  const int n = out.columns.empty() ? 0 : static_cast<int>(out.columns.front().size());
  const auto all = series::common_of(spans, n);
  for (std::size_t i = 0; i < spans.size(); ++i) {
    out.others.push_back(all.without(spans[i], all.offsets[i]));
  }
  return out;
}

double median_between(const std::vector<double>& y, std::ptrdiff_t from, std::ptrdiff_t to) {
  const auto n = std::ssize(y);
  from = std::clamp<std::ptrdiff_t>(from, 0, n);
  to = std::clamp<std::ptrdiff_t>(to, from, n);
  return series::median(
      std::span(y).subspan(static_cast<std::size_t>(from), static_cast<std::size_t>(to - from)));
}

struct Jump {
  std::ptrdiff_t at;
  double size_k;
};

/// Steps of d that are sudden (within three samples) and stay.
std::vector<Jump> jumps_in(const std::vector<double>& d, double step_s) {
  const auto side = static_cast<std::ptrdiff_t>(jump_side_s / step_s);
  const auto stays = static_cast<std::ptrdiff_t>(jump_stays_s / step_s);
  const auto n = std::ssize(d);
  if (n < 4 * side) return {};
  std::vector<double> size(d.size(), nan);
  for (std::ptrdiff_t j = side; j + side < n; ++j) {
    size[static_cast<std::size_t>(j)] =
        median_between(d, j + 2, j + 2 + side) - median_between(d, j - 1 - side, j - 1);
  }
  const double bar = std::max(jump_smallest_k, jump_noise_sds * series::robust_sd(size));
  std::vector<Jump> out;
  for (std::ptrdiff_t j = side; j + stays < n; ++j) {
    const double s = size[static_cast<std::size_t>(j)];
    if (!(std::abs(s) > bar)) continue;
    const double sudden = d[static_cast<std::size_t>(j + 2)] - d[static_cast<std::size_t>(j - 1)];
    if (!(sudden / s > 0.7)) continue;
    const double later =
        median_between(d, j + stays - side, j + stays) - median_between(d, j - 1 - side, j - 1);
    if (!(later / s > 0.6)) continue;
    if (!out.empty() && j - out.back().at < side) {
      if (std::abs(s) > std::abs(out.back().size_k)) out.back() = {j, s};
      continue;
    }
    out.push_back({j, s});
  }
  return out;
}

bool is_known(double t, std::span<const double> known_s) {
  return std::ranges::any_of(
      known_s, [t](double k) { return t > k - jump_quiet_before_s && t < k + jump_quiet_after_s; });
}

struct Answer {
  double gain = nan, late_s = 0.0, likeness = 0.0;
};

/// How y answers x: the delay of the highest correlation, and the regression slope there.
Answer answer_of(const std::vector<double>& y, const std::vector<double>& x, double step_s,
                 double cycle_s) {
  Answer best;
  const auto first = static_cast<std::ptrdiff_t>(-0.15 * cycle_s / step_s);
  const auto last = static_cast<std::ptrdiff_t>(0.35 * cycle_s / step_s);
  for (std::ptrdiff_t lag = first; lag <= last; ++lag) {
    double xy = 0.0, xx = 0.0, yy = 0.0;
    for (std::ptrdiff_t t = std::max<std::ptrdiff_t>(0, lag);
         t < std::ssize(y) && t - lag < std::ssize(x); ++t) {
      const double a = x[static_cast<std::size_t>(t - lag)], b = y[static_cast<std::size_t>(t)];
      if (!std::isfinite(a + b)) continue;
      xy += a * b;
      xx += a * a;
      yy += b * b;
    }
    if (!(xx > 0.0 && yy > 0.0)) continue;
    const double likeness = xy / std::sqrt(xx * yy);
    if (likeness <= best.likeness) continue;
    best = {xy / xx, static_cast<double>(lag) * step_s, likeness};
  }
  return best;
}

std::vector<double> without_slow_part(const std::vector<double>& y, double step_s, double cycle_s) {
  const auto slow =
      series::running_line(y, std::max(1, static_cast<int>(std::lround(cycle_s / step_s))));
  std::vector<double> out(y.size());
  for (std::size_t i = 0; i < y.size(); ++i) out[i] = y[i] - slow[i];
  const double limit = 3.5 * series::robust_sd(out);
  for (double& v : out) {
    if (std::isfinite(v) && limit > 0.0) v = std::clamp(v, -limit, limit);
  }
  return out;
}

}  // namespace

std::vector<double> known_moments(const Burn& burn) {
  std::vector<double> out;
  out.reserve(burn.stints.size() + 1);
  for (const auto& stint : burn.stints) out.push_back(stint.from_s);
  if (!burn.stints.empty()) out.push_back(burn.stints.back().to_s);
  for (const auto& event : burn.events) {
    if (event.kind == EventKind::note) continue;
    out.push_back(event.at_s);
    if (event.until_s) out.push_back(*event.until_s);
  }
  return out;
}

std::vector<Trouble> jumps_of(const std::vector<Column>& columns, const series::Moments& moments,
                              std::span<const double> known_s) {
  std::vector<Trouble> out;
  if (columns.size() < 3) return out;
  const Coarse coarse = coarse_of(columns, moments, coarse_step_s);
  for (std::size_t i = 0; i < columns.size(); ++i) {
    std::vector<double> d(coarse.columns[i]);
    for (std::size_t t = 0; t < d.size(); ++t) d[t] -= coarse.others[i][t];
    for (const Jump& jump : jumps_in(d, coarse.step_s)) {
      const double at_s = moments.start_s + static_cast<double>(jump.at) * coarse.step_s;
      if (is_known(at_s, known_s)) continue;
      const Trouble found{TroubleKind::probe, TroubleCode::probe_jump, columns[i].probe->channel,
                          at_s, jump.size_k};
      // The others' mean moves too when one probe jumps: only the largest at a moment is real.
      const auto same = std::ranges::find_if(out, [&](const Trouble& t) {
        return std::abs(t.at_s.value_or(at_s) - at_s) < jump_side_s;
      });
      if (same == out.end()) {
        out.push_back(found);
      } else if (std::abs(found.amount) > std::abs(same->amount)) {
        *same = found;
      }
    }
  }
  return out;
}

std::vector<ProbeAnswer> answers_of(const std::vector<Column>& columns,
                                    const series::Moments& moments) {
  std::vector<ProbeAnswer> out;
  if (columns.size() < 3) return out;
  std::vector<std::span<const double>> spans;
  spans.reserve(columns.size());
  for (const Column& c : columns) spans.emplace_back(c.celsius);
  const auto level = series::common_of(spans, moments.n).common;
  const auto period_s = series::find_cycle(level, moments.step_s).period_s;
  const double cycle_s = period_s.value_or(aperiodic_cycle_s);
  if (!period_s && moments.n * moments.step_s < 6.0 * aperiodic_cycle_s) return out;
  const Coarse coarse = coarse_of(columns, moments, cycle_s / 30.0);
  std::vector<double> gains, lates;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const Answer a = answer_of(without_slow_part(coarse.columns[i], coarse.step_s, cycle_s),
                               without_slow_part(coarse.others[i], coarse.step_s, cycle_s),
                               coarse.step_s, cycle_s);
    const Probe& probe = *columns[i].probe;
    out.push_back({probe.channel, probe.spot, a.gain, a.late_s, a.likeness, period_s});
    gains.push_back(a.gain);
    lates.push_back(a.late_s);
  }
  const double usual_gain = series::median(gains), usual_late = series::median(lates);
  for (ProbeAnswer& a : out) {
    a.share /= usual_gain;
    a.late_s -= usual_late;
  }
  return out;
}

std::vector<Trouble> touching_of(const std::vector<ProbeAnswer>& answers) {
  std::vector<Trouble> out;
  for (const ProbeAnswer& a : answers) {
    const bool is_damped =
        a.share < (a.period_s ? touching_share : aperiodic_share) && a.likeness > touching_likeness;
    const bool is_late = a.late_s > touching_late_cycles * a.period_s.value_or(aperiodic_cycle_s);
    if (!is_damped || !is_late) continue;
    out.push_back(
        {TroubleKind::probe, TroubleCode::probe_touching, a.channel, std::nullopt, a.share});
  }
  return out;
}

}  // namespace pitwright::call
