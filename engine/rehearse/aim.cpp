#include "rehearse/aim.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/expects.h"
#include "rehearse/burning.h"

namespace pitwright::rehearse {
namespace {

double mean_of(const std::vector<double>& values) {
  double sum = 0;
  for (const double v : values) sum += v;
  return values.empty() ? 0.0 : sum / static_cast<double>(values.size());
}

/// What moves the level: the sensor's own lean, or the share of heat.
double& level_lever(const PitModel& model, Setting& setting) {
  return is_held(model.fire) ? setting.sensor_lean_k : setting.heat;
}

/// One setting's hunt: secant on the level's lever, gain by gain on the runs.
class Hunt {
 public:
  Hunt(const PitModel& model, Setting& setting, const Target& target)
      : model_(model), setting_(setting), target_(target), runs_(target.run_k) {
    const double mean = mean_of(runs_);
    for (double& r : runs_) r -= mean;
  }

  /// The largest miss [K] as things stand; if it is above the tolerance and `turn`, turns the
  /// gains.
  double round(double tolerance_k, bool turn) {
    const SettingTruth truth = truth_at(model_, setting_);
    std::vector<double> misses;
    for (std::size_t i = 0; i < runs_.size(); ++i) misses.push_back(runs_[i] - truth.run_k[i]);
    const double level_miss = target_.level_c ? *target_.level_c - truth.level_c : 0.0;
    double worst = std::abs(level_miss);
    for (const double miss : misses) worst = std::max(worst, std::abs(miss));
    if (worst <= tolerance_k || !turn) return worst;
    const double full = std::max(0.2, truth.plate_excess_k / model_.plate_excess_k);
    for (std::size_t i = 0; i < misses.size(); ++i) setting_.lean_k[i] += misses[i] / full;
    if (target_.level_c) turn_level(truth, level_miss, full);
    return worst;
  }

 private:
  void turn_level(const SettingTruth& truth, double miss, double full) {
    double& lever = level_lever(model_, setting_);
    double slope = is_held(model_.fire) ? -full : 0.75 * (truth.level_c - model_.weather.outside_c);
    if (has_last_ && std::abs(lever - last_lever_) > 1e-9) {
      const double secant = (truth.level_c - last_level_) / (lever - last_lever_);
      const double ratio = secant / slope;
      if (ratio > 0.25 && ratio < 4) slope = secant;  // else the runs moved it: keep the guess
    }
    has_last_ = true;
    last_lever_ = lever;
    last_level_ = truth.level_c;
    lever += miss / slope;
    if (!is_held(model_.fire)) lever = std::clamp(lever, 0.1, 5.0);
  }

  const PitModel& model_;
  Setting& setting_;
  const Target& target_;
  std::vector<double> runs_;
  bool has_last_ = false;
  double last_lever_ = 0;
  double last_level_ = 0;
};

}  // namespace

AimReport aim(PitModel& model, const std::vector<Target>& targets, double tolerance_k, int rounds) {
  AimReport report;
  report.met = true;
  for (const auto& target : targets) {
    const int index = setting_index(model, target.setting);
    expects(index >= 0);
    expects(target.run_k.empty() || target.run_k.size() == model.spots.size());
    auto& setting = model.settings[static_cast<std::size_t>(index)];
    Hunt hunt(model, setting, target);
    // A relay that looks once a tick answers in small jumps: what was best is kept.
    Setting best = setting;
    double worst = std::numeric_limits<double>::infinity();
    for (int round = 1; round <= rounds; ++round) {
      const Setting as_is = setting;
      const double miss = hunt.round(tolerance_k, round < rounds);
      report.rounds = std::max(report.rounds, round);
      if (miss < worst) best = as_is;
      worst = std::min(worst, miss);
      if (worst <= tolerance_k) break;
    }
    setting = best;
    report.worst_k = std::max(report.worst_k, worst);
    report.met = report.met && worst <= tolerance_k;
  }
  return report;
}

/// The fire's span around the heat that the pit needs.
struct Span {
  double above, below;  ///< as shares of that heat
};

void set_span(Fire& fire, double need_w, Span span) {
  fire.high_w = need_w * (1 + span.above);
  fire.low_w = need_w * (1 - span.below);
}

double needed_heat_w(const PitModel& model, const Setting& setting) {
  PitModel able = model;
  able.fire.kind = FireKind::relay;
  able.fire.low_w = 0;
  able.fire.high_w = 1e7;
  Burning pit(able, nullptr);
  apply_calm(able, pit.inputs());
  pit.use(setting);
  return balance(pit.physics(), pit.inputs()).heat_w;
}

namespace {

/// A hand-fed fire: the period is the person's, a slower bed swings less.
AimReport aim_split_swing(PitModel& model, const Setting& at, double period_s, double size_k,
                          int rounds) {
  AimReport report;
  model.fire.period_s = period_s;
  for (int round = 1; round <= rounds; ++round) {
    const double size = truth_at(model, at).swing.size_k;
    report.rounds = round;
    report.worst_k = std::abs(size - size_k);
    const double larger = size_k / std::max(0.05, size);
    report.met = std::abs(larger - 1) < 0.05;
    if (report.met || round == rounds) break;
    const double slower = std::clamp(std::pow(larger, -1.1), 0.3, 3.0);
    model.fire.bed_lag_s = std::clamp(model.fire.bed_lag_s * slower, 20.0, 6000.0);
  }
  return report;
}

}  // namespace

AimReport aim_swing(PitModel& model, const std::string& setting, double period_s, double size_k,
                    int rounds) {
  const int index = setting_index(model, setting);
  expects(index >= 0 && period_s > 0 && size_k > 0);
  AimReport report;
  auto& fire = model.fire;
  const auto& at = model.settings[static_cast<std::size_t>(index)];
  if (fire.kind == FireKind::splits) return aim_split_swing(model, at, period_s, size_k, rounds);
  const double need_w = needed_heat_w(model, at);
  Span span{0.5, 0.5};
  for (int round = 1; round <= rounds; ++round) {
    set_span(fire, need_w, span);
    const auto truth = truth_at(model, at);
    report.rounds = round;
    const double slower = truth.swing.period_s ? period_s / *truth.swing.period_s : 1.0;
    const double larger = size_k / std::max(0.05, truth.swing.size_k);
    report.worst_k = std::abs(truth.swing.size_k - size_k);
    report.met = std::abs(slower - 1) < 0.03 && std::abs(larger - 1) < 0.05;
    if (report.met || round == rounds) break;
    const double lag = std::clamp(std::pow(slower, 0.9), 0.5, 2.0);
    fire.dead_time_s = std::clamp(fire.dead_time_s * lag, 2.0, 600.0);
    fire.bed_lag_s = std::clamp(fire.bed_lag_s * lag, 4.0, 600.0);
    // Longer lags at the same span swing more: take that off.
    const double wider = std::clamp(larger / lag, 0.4, 2.5);
    span.above = std::clamp(span.above * wider, 0.02, 6.0);
    span.below = std::clamp(span.below * wider, 0.02, 1.0);
  }
  return report;
}

}  // namespace pitwright::rehearse
