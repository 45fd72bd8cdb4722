#include "design/resolve.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <Eigen/Cholesky>

#include "base/expects.h"
#include "call/judge.h"
#include "call/leaks.h"
#include "call/measured.h"
#include "call/words.h"
#include "design/orders.h"
#include "numeric/random.h"
#include "numeric/students_t.h"

namespace pitwright::design {
namespace {

constexpr double step_s = 10.0;
constexpr double most_of_dwell = 0.6;  // given to settling at most, as the call does
constexpr int draws = 64;
/// Of the true change, per root hour: what a physical pit's answer has beyond lag and leaks looks
/// like drift. From calls of made-up pits; docs/methods/design.md. What a burn taught has it.
constexpr double usual_stirred_share = 0.05;
constexpr int quick_draws = 24;
constexpr std::uint64_t seed = 20260502;
constexpr double normal_quartile = 0.6744897501960817;  // median of |z|, z standard normal

/// The value below which the share p of the sorted values lies, straight lines between them.
double at_share(const std::vector<double>& sorted, double p) {
  const double place = p * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const auto above = std::min(below + 1, sorted.size() - 1);
  return std::lerp(sorted[below], sorted[above], place - static_cast<double>(below));
}

double sorted_median(std::vector<double> values) {
  std::ranges::sort(values);
  return at_share(values, 0.5);
}

double between(double low, double high, double mean, double sd) {
  if (high <= low) return 0.0;
  return numeric::normal_cdf((high - mean) / sd) - numeric::normal_cdf((low - mean) / sd);
}

/// Chance of each word when the value scatters around `mean` by `sd` and the range reaches from
/// value - below to value + above.
Chances chances_of(const Told& told, double mean, double sd, double m) {
  const double a = told.below, b = told.above;
  const double clear = between(m + a, HUGE_VAL, mean, sd) + between(-HUGE_VAL, -m - b, mean, sd);
  const double no_odds = between(a - m, m - b, mean, sd);
  const double excluded = between(a, HUGE_VAL, mean, sd) + between(-HUGE_VAL, -b, mean, sd);
  // No odds although zero is excluded: the range lies between 0 and m, or between -m and 0.
  const double both = between(a, m - b, mean, sd) + between(a - m, -b, mean, sd);
  const double too_close = std::max(0.0, excluded - clear - both);
  return {clear, no_odds, too_close, std::max(0.0, 1.0 - clear - no_odds - too_close)};
}

void add(Chances& into, const Chances& more) {
  into.clear += more.clear;
  into.no_odds += more.no_odds;
  into.too_close += more.too_close;
  into.not_yet += more.not_yet;
}

call::Ratios ratios_of(const call::Scales& s) {
  return {s.drift / s.noise, s.resetting / s.noise};
}

call::ScalePriors priors_of(const Ask& ask, int draw) {
  if (ask.priors.empty()) return {};
  return ask.priors[static_cast<std::size_t>(draw) % ask.priors.size()];
}

call::Scales drawn(const Ask& ask, int draw, int of) {
  // Spread over the whole law where it has more entries than there are draws.
  const auto size = static_cast<int>(ask.law.size());
  const int at = size > of ? draw * size / of : draw % size;
  const auto& s = ask.law[static_cast<std::size_t>(at)];
  return {ask.factor * s.drift, ask.factor * s.noise, ask.factor * s.resetting};
}

call::Windows windows_of(const Schedule& schedule, const Habits& habits) {
  call::Windows windows;
  const int settings = 1 + *std::ranges::max_element(schedule.order);
  for (int k = 0; k < settings; ++k) windows.settings.push_back(std::to_string(k));
  windows.swing = habits.swing;
  windows.lag_s = habits.lag_s;
  windows.lag_low_s = habits.lag_low_s;
  windows.lag_high_s = habits.lag_high_s;
  windows.lag_borrowed = habits.lag_borrowed;
  const double settling = std::min(most_of_dwell * schedule.dwell_s, settling_s(habits));
  for (int k = 0; k < std::ssize(schedule.order); ++k) {
    const auto i = static_cast<std::size_t>(k);
    const bool is_change =
        k == 0 ? !schedule.set_before : schedule.order[i] != schedule.order[i - 1];
    call::StintCall stint{};
    stint.index = k;
    stint.setting = schedule.order[i];
    stint.from_s = k * schedule.dwell_s;
    stint.to_s = stint.from_s + schedule.dwell_s;
    stint.counted_from_s = stint.from_s + (is_change ? settling : 0.0);
    stint.counted_to_s = stint.to_s;
    stint.state = call::StintState::closed;
    windows.stints.push_back(std::move(stint));
  }
  return windows;
}

}  // namespace

Outlook::Outlook(const Schedule& schedule, const Habits& habits, double matters_k) {
  expects(schedule.order.size() >= 2 && schedule.dwell_s > 0.0 && matters_k > 0.0);
  panel_.step_s = step_s;
  panel_.n = static_cast<int>(
      std::lround(static_cast<double>(schedule.order.size()) * schedule.dwell_s / step_s));
  stirred_share_ = habits.learned ? 0.0 : usual_stirred_share;
  windows_ = windows_of(schedule, habits);
  counted_s_ = schedule.dwell_s - std::min(most_of_dwell * schedule.dwell_s, settling_s(habits));
  call::Moments moments;
  moments.good.assign(static_cast<std::size_t>(panel_.n), 1);
  blocks_ = call::cut_blocks(panel_, windows_, moments, true);
  layout_ = call::layout_of(blocks_);
  layout_.rows = {call::settling_rows(blocks_, panel_, windows_, {.lag_s = habits.lag_s})};
  layout_.lag_weights = {1.0};
  const int settings = static_cast<int>(windows_.settings.size());
  for (int from = 0; from < settings; ++from)
    for (int to = from + 1; to < settings; ++to) pairs_.emplace_back(from, to);
  expects(!pairs_.empty());
  leaks_ = call::level_leaks(blocks_, panel_, windows_, layout_.rows.front() * effects(1.0));
}

Eigen::VectorXd Outlook::contrast(std::pair<int, int> pair) const {
  const int p = layout_.settings();
  return Eigen::VectorXd::Unit(p, pair.second) - Eigen::VectorXd::Unit(p, pair.first);
}

Eigen::MatrixXd Outlook::covariance(const Eigen::MatrixXd& lower) const {
  return call::solve(lower, layout_.rows.front(), Eigen::MatrixXd::Zero(layout_.blocks(), 1))
      .unit_covariance;
}

double Outlook::quick_sd_k(const Ask& ask) const {
  std::vector<double> sds;
  for (int i = 0; i < quick_draws; ++i) {
    const auto scales = drawn(ask, i, quick_draws);
    const auto C = covariance(call::factor(layout_, ratios_of(scales)));
    for (const auto& pair : pairs_)
      sds.push_back(scales.noise * std::sqrt(contrast(pair).dot(C * contrast(pair))));
  }
  return sorted_median(std::move(sds));
}

/// Every other setting is as much warmer as the truth says.
Eigen::VectorXd Outlook::effects(double truth_k) const {
  Eigen::VectorXd all = Eigen::VectorXd::Zero(layout_.settings());
  for (int k = 1; k < layout_.settings(); k += 2) all(k) = truth_k;
  return all;
}

Eigen::MatrixXd Outlook::made_up(const Ask& ask, double truth_k, std::vector<double>& sds) const {
  numeric::Random random(seed);
  Eigen::MatrixXd y(layout_.blocks(), draws);
  const Eigen::VectorXd mean = layout_.rows.front() * effects(truth_k);
  for (int i = 0; i < draws; ++i) {
    auto scales = drawn(ask, i, draws);
    scales.drift = std::hypot(scales.drift, stirred_share_ * truth_k);
    const auto leak_sd = priors_of(ask, i).nuisance_sd;
    Eigen::MatrixXd R = call::relative_covariance(layout_, ratios_of(scales));
    for (std::size_t k = 0; k < leak_sd.size(); ++k) {
      const auto column = leaks_.col(static_cast<Eigen::Index>(k));
      const double sd = leak_sd[k] * truth_k / scales.noise;
      R += sd * sd * (column * column.transpose());
    }
    const Eigen::MatrixXd L = R.llt().matrixL();
    Eigen::VectorXd z(layout_.blocks());
    for (auto& value : z) value = random.normal();
    y.col(i) = mean + scales.noise * (L * z);
    const auto C = covariance(L);
    for (const auto& pair : pairs_) {
      const auto c = contrast(pair);
      sds.push_back(scales.noise * std::sqrt(c.dot(C * c)));
    }
  }
  return y;
}

std::vector<Told> Outlook::told(const Ask& ask, double truth_k, std::vector<double>& sds) const {
  const auto y = made_up(ask, truth_k, sds);
  const Eigen::MatrixXd leaks = truth_k * leaks_;
  std::vector<call::ScalePriors> priors;
  for (int i = 0; i < draws; ++i) priors.push_back(priors_of(ask, i));
  const auto measured = call::measure(blocks_, panel_, windows_, y, leaks, priors);
  const double word_error = call::sidak(call::look_error(call::closed_stints(windows_)),
                                        ask.series * static_cast<int>(pairs_.size()));
  std::vector<Told> all;
  for (const auto& one : measured)
    for (const auto& [from, to] : pairs_) {
      const auto law = *one.change(from, to);
      const double value = numeric::mean(law);
      const auto single = numeric::central_interval(law, 0.05);
      const auto joint = numeric::central_interval(law, word_error);
      all.push_back(
          {value, 0.5 * (single.high - single.low), value - joint.low, joint.high - value});
    }
  return all;
}

Resolution Outlook::resolve(const Ask& ask) const {
  expects(!ask.law.empty() && ask.factor > 0.0 && ask.series >= 1);
  Resolution result;
  std::vector<double> halves;
  double excess = 1.0;
  for (std::size_t t = 0; t < result.chances.size(); ++t) {
    const double truth_k = static_cast<double>(t) * ask.matters_k;
    std::vector<double> sds;
    const auto all = told(ask, truth_k, sds);
    if (t == 0) {
      // The estimator does not know the scales, so its values scatter more than the best would.
      std::vector<double> stretches;
      for (std::size_t i = 0; i < all.size(); ++i)
        stretches.push_back(std::abs(all[i].value) / sds[i]);
      excess = std::max(1.0, sorted_median(stretches) / normal_quartile);
    }
    Chances& chances = result.chances[t];
    double count = 0.0;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const auto [from, to] = pairs_[i % pairs_.size()];
      if ((to - from) % 2 == 0) continue;  // made equally warm
      const double mean = to % 2 == 1 ? truth_k : -truth_k;
      add(chances, chances_of(all[i], mean, excess * sds[i], ask.matters_k));
      count += 1.0;
      if (t == 1) halves.push_back(all[i].single);
    }
    for (double Chances::*word :
         {&Chances::clear, &Chances::no_odds, &Chances::too_close, &Chances::not_yet})
      chances.*word /= count;
  }
  std::ranges::sort(halves);
  result.half_width_k = at_share(halves, 0.5);
  result.low_k = at_share(halves, 0.1);
  result.high_k = at_share(halves, 0.9);
  return result;
}

}  // namespace pitwright::design
