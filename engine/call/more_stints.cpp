#include "call/more_stints.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

#include "call/blocks.h"
#include "call/errors_model.h"
#include "call/leaks.h"
#include "call/spread.h"
#include "call/words.h"
#include "numeric/students_t.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

constexpr int most_stints = 12;
constexpr double enough_chance = 0.8;
constexpr int typical_nodes = 6;
/// What the priors of the scales are worth, in degrees of freedom: they are t with 4.
constexpr double prior_degrees = 4.0;
constexpr double nearly_normal = 1e6;  ///< degrees of freedom

/// Blocks that a stint is cut into here, so that many futures can be tried.
constexpr int blocks_a_stint = 3;

/// The burn so far in few blocks, and what one more stint would add.
struct Future {
  Windows windows;  ///< up to the last stint that counts
  std::vector<Block> blocks;
  Eigen::VectorXd level;  ///< at each setting; for what leaks of its changes
  double dwell_s, settling_s;
  double noise_s;  ///< variance of a block's noise times its length, in standard blocks
};

/// Neighbors of one stint put together.
Block joined(const std::vector<const Block*>& parts) {
  Block all = *parts.front();
  all.last = parts.back()->last;
  double information = 0.0, middle = 0.0;
  for (const auto* part : parts) {
    information += 1.0 / part->noise;
    middle += part->middle_s / part->noise;
  }
  all.middle_s = middle / information;
  all.noise = 1.0 / information;
  return all;
}

/// The measured blocks of every stint as two.
std::vector<Block> few_blocks(const Tables& tables, const Measured& measured) {
  std::vector<std::vector<const Block*>> stints;
  for (const int b : measured.blocks()) {
    const auto& block = tables.blocks[static_cast<std::size_t>(b)];
    if (stints.empty() || stints.back().front()->stint != block.stint) stints.emplace_back();
    stints.back().push_back(&block);
  }
  std::vector<Block> few;
  for (const auto& stint : stints) {
    const auto n = std::ssize(stint);
    for (std::ptrdiff_t i = 0; i < blocks_a_stint; ++i) {
      const auto from = i * n / blocks_a_stint, to = (i + 1) * n / blocks_a_stint;
      if (from < to) few.push_back(joined({stint.begin() + from, stint.begin() + to}));
    }
  }
  return few;
}

Future future_of(const Evidence& evidence, const Measured& measured) {
  Future future{evidence.windows, few_blocks(evidence.now, measured), {}, 0.0, 0.0, 0.0};
  auto& stints = future.windows.stints;
  stints.resize(static_cast<std::size_t>(future.blocks.back().stint) + 1);
  std::vector<double> dwells, settlings, noises;
  for (std::size_t k = 0; k < stints.size(); ++k) {
    const auto& stint = stints[k];
    if (!stint.counted_from_s) continue;
    dwells.push_back(stint.to_s - stint.from_s);
    if (k > 0 && stint.setting != stints[k - 1].setting)
      settlings.push_back(*stint.counted_from_s - stint.from_s);
  }
  for (const auto& block : future.blocks)
    noises.push_back(block.noise * (block.last - block.first) * evidence.panel.step_s);
  future.dwell_s = series::median(dwells);
  future.settling_s = settlings.empty() ? 0.4 * future.dwell_s : series::median(settlings);
  future.noise_s = series::median(noises);
  future.level.setZero(std::ssize(evidence.windows.settings));
  for (int k = 0; k < future.level.size(); ++k)
    if (const auto law = evidence.now.level.at(k)) future.level(k) = numeric::mean(*law);
  return future;
}

/// One more stint at a setting, as the call would cut it.
void add_stint(const Panel& panel, int setting, Future& future) {
  const auto& last = future.windows.stints.back();
  const bool is_change = last.setting != setting;
  StintCall stint{};
  stint.index = last.index + 1;
  stint.setting = setting;
  stint.from_s = last.to_s;
  stint.to_s = stint.from_s + future.dwell_s;
  stint.counted_from_s = stint.from_s + (is_change ? future.settling_s : 0.0);
  stint.counted_to_s = stint.to_s;
  const double length_s = (stint.to_s - *stint.counted_from_s) / blocks_a_stint;
  for (int i = 0; i < blocks_a_stint; ++i) {
    const double from_s = *stint.counted_from_s + i * length_s;
    const auto moment = [&](double t) {
      return static_cast<int>(std::lround((t - panel.start_s) / panel.step_s));
    };
    Block block{};
    block.first = moment(from_s);
    block.last = moment(from_s + length_s);
    block.stint = stint.index;
    block.stretch = future.blocks.back().stretch + (is_change && i == 0 ? 1 : 0);
    block.setting = setting;
    block.middle_s = from_s + 0.5 * length_s;
    block.noise = future.noise_s / length_s;
    future.blocks.push_back(block);
  }
  future.windows.stints.push_back(std::move(stint));
}

/// The layout of a future, leaks with it: the call's own.
Layout layout_of(const Future& future, const Panel& panel, const std::vector<int>& settings) {
  auto layout = layout_of(future.blocks);
  layout.rows = {settling_rows(future.blocks, panel, future.windows,
                               {.lag_s = future.windows.lag_s})(Eigen::all, settings)};
  layout.lag_weights = {1.0};
  layout.nuisances = leaks_between(future.blocks, panel, future.windows, future.level);
  return layout;
}

double variance(const Layout& layout, const std::vector<double>& nuisance_sd,
                const Eigen::VectorXd& contrast, const Scales& scales) {
  Eigen::MatrixXd R =
      relative_covariance(layout, {scales.drift / scales.noise, scales.resetting / scales.noise});
  for (std::size_t k = 0; k < nuisance_sd.size(); ++k) {
    const Eigen::VectorXd leak =
        nuisance_sd[k] / scales.noise * layout.nuisances.col(static_cast<Eigen::Index>(k));
    R += leak * leak.transpose();
  }
  const Eigen::LLT<Eigen::MatrixXd> lower(R);
  const Eigen::MatrixXd A = lower.matrixL().solve(layout.rows.front());
  const Eigen::MatrixXd information = A.transpose() * A;
  return scales.noise * scales.noise * contrast.dot(information.llt().solve(contrast));
}

/// Chance that an estimate scattered around `mean` by `moves` ends clear or no odds with half width
/// h.
double chance_settled(double mean, double moves, double h, double matters) {
  const double sd = std::max(moves, 1e-9);
  const auto below = [&](double x) { return numeric::normal_cdf((x - mean) / sd); };
  const double clear = 1.0 - below(matters + h) + below(-matters - h);
  return clear + (h < matters ? below(matters - h) - below(-matters + h) : 0.0);
}

/// One open question.
struct Question {
  const Measured& measured;
  int from, to;
  int comparisons;
};

class Outlook {
 public:
  Outlook(const Evidence& evidence, const Question& question)
      : evidence_(evidence), question_(question), future_(future_of(evidence, question.measured)) {
    const auto& measured = question.measured;
    for (int k = 0; k < measured.settings(); ++k)
      if (measured.has(k)) settings_.push_back(k);
    const auto p = measured.effects()->layout().settings();
    contrast_ = Eigen::VectorXd::Unit(p, measured.column_of(question.to)) -
                Eigen::VectorXd::Unit(p, measured.column_of(question.from));
    mean_ = numeric::mean(measured.posterior()->law(contrast_));
    scales_ = measured.posterior()->typical_scales(contrast_, typical_nodes);
    const auto now = layout_of(future_, evidence.panel, settings_);
    for (const auto& s : scales_)
      now_.push_back(variance(now, measured.nuisance_sd(), contrast_, s));
    const int a = question.from, b = question.to;
    orders_ = {{a, b}, {b, a}, {a, b, b, a}, {b, a, a, b}};
  }

  /// Best chance over the orders with `count` more stints.
  double chance(int count) const {
    double best = 0.0;
    for (const auto& order : orders_) best = std::max(best, chance(count, order));
    return best;
  }

 private:
  double chance(int count, const std::vector<int>& order) const {
    auto future = future_;
    for (int k = 0; k < count; ++k)
      add_stint(evidence_.panel, order[static_cast<std::size_t>(k) % order.size()], future);
    const auto layout = layout_of(future, evidence_.panel, settings_);
    const int stretches = 1 + layout.stretch.back() - layout.stretch.front();
    const double degrees = std::max(1, stretches - layout.settings()) + prior_degrees;
    const double error = sidak(look_error(evidence_.closed_stints + count), question_.comparisons);
    // The scales are learned, so what they leave is t; the leaks' sizes are given, so theirs is
    // normal.
    const double t = numeric::students_t_upper_quantile(0.5 * error, degrees);
    const double z = numeric::students_t_upper_quantile(0.5 * error, nearly_normal);
    double sum = 0.0;
    for (std::size_t k = 0; k < scales_.size(); ++k) {
      const double then = variance(layout, question_.measured.nuisance_sd(), contrast_, scales_[k]);
      const double of_scales = variance(layout, {}, contrast_, scales_[k]);
      const double half = std::sqrt(t * t * of_scales + z * z * std::max(0.0, then - of_scales));
      sum += chance_settled(mean_, std::sqrt(std::max(0.0, now_[k] - then)), half,
                            evidence_.matters_k);
    }
    return sum / static_cast<double>(scales_.size());
  }

  const Evidence& evidence_;
  Question question_;
  Future future_;
  std::vector<int> settings_;  ///< those that the quantity was counted at
  Eigen::VectorXd contrast_;
  double mean_ = 0.0;
  std::vector<Scales> scales_;
  std::vector<double> now_;
  std::vector<std::vector<int>> orders_;
};

/// Fewest stints that reach the chance. The chance grows with the stints but for small dents, so
/// the search is by halving.
std::optional<int> fewest(const Evidence& evidence, const Question& question) {
  const Outlook outlook(evidence, question);
  int low = 0, high = most_stints;
  if (outlook.chance(high) < enough_chance) return std::nullopt;
  while (high - low > 1) {
    const int middle = (low + high) / 2;
    (outlook.chance(middle) >= enough_chance ? high : low) = middle;
  }
  return high;
}

bool is_open(const Change& change) {
  return change.word == Word::not_yet || change.word == Word::too_close;
}

void fill(const Evidence& evidence, const Measured& measured, int comparisons, Quantity& quantity) {
  for (auto& change : quantity.changes)
    if (is_open(change) && measured.has(change.from) && measured.has(change.to))
      change.needs_stints = fewest(evidence, {measured, change.from, change.to, comparisons});
}

/// The spread follows the pair that is widest at either setting.
void fill_spread(const Evidence& evidence, int pairs, Quantity& spread) {
  const auto& tables = evidence.now;
  Spread laws(tables, evidence.panel);
  for (auto& change : spread.changes) {
    if (!is_open(change)) continue;
    const int at_from = laws.widest_pair(change.from), at_to = laws.widest_pair(change.to);
    if (at_from < 0 || at_to < 0) continue;
    std::optional<int> most = 0;
    for (const int k : {at_from, at_to}) {
      const auto one = fewest(evidence, {tables.differences[static_cast<std::size_t>(k)],
                                         change.from, change.to, pairs * tables.all_pairs});
      most = one && most ? std::optional(std::max(*one, *most)) : std::nullopt;
    }
    change.needs_stints = most;
  }
}

}  // namespace

void fill_needs_stints(const Evidence& evidence, Report& report) {
  const auto& now = evidence.now;
  const int pairs = static_cast<int>(report.level.changes.size());
  if (now.empty() || pairs == 0) return;
  fill(evidence, now.level, pairs, report.level);
  for (std::size_t i = 0; i < report.spots.size(); ++i)
    fill(evidence, now.runs[i], pairs * static_cast<int>(report.spots.size()),
         report.spots[i].runs);
  for (std::size_t i = 0; i < report.tilts.size(); ++i)
    fill(evidence, now.tilts[i], pairs, report.tilts[i].tilt);
  fill_spread(evidence, pairs, report.spread);
  if (report.dial_gap && now.dial_gap) fill(evidence, *now.dial_gap, pairs, *report.dial_gap);
}

}  // namespace pitwright::call
