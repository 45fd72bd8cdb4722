#include "call/more_stints.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

#include "call/errors_model.h"
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

/// The burn so far with every stretch as one block, and what one more stint would add.
struct Future {
  Layout now;        ///< one lag node
  int last_column;   ///< setting of the last stretch
  double next_hour;  ///< middle of the next stint's counting
  double dwell_hours;
  double stint_noise;  ///< in standard blocks
};

double median_dwell_s(const Windows& windows) {
  std::vector<double> dwells;
  for (const auto& stint : windows.stints)
    if (stint.counted_from_s) dwells.push_back(stint.to_s - stint.from_s);
  return series::median(dwells);
}

Future future_of(const Windows& windows, const Measured& measured) {
  const auto& layout = measured.effects()->layout();
  const auto& rows = layout.rows.front();
  Future future;
  std::vector<double> information, noises;
  std::vector<Eigen::VectorXd> sums;
  for (int i = 0; i < layout.blocks(); ++i) {
    const auto b = static_cast<std::size_t>(i);
    auto& now = future.now;
    if (now.stretch.empty() || now.stretch.back() != layout.stretch[b]) {
      now.stretch.push_back(layout.stretch[b]);
      now.hours.push_back(0.0);
      information.push_back(0.0);
      sums.emplace_back(Eigen::VectorXd::Zero(layout.settings()));
    }
    const double weight = 1.0 / layout.noise[b];
    now.hours.back() += weight * layout.hours[b];
    sums.back() += weight * rows.row(i).transpose();
    information.back() += weight;
  }
  future.now.rows.emplace_back(std::ssize(sums), layout.settings());
  for (std::size_t k = 0; k < sums.size(); ++k) {
    future.now.hours[k] /= information[k];
    future.now.noise.push_back(1.0 / information[k]);
    future.now.rows[0].row(static_cast<Eigen::Index>(k)) = (sums[k] / information[k]).transpose();
  }
  future.now.lag_weights = {1.0};
  sums.back().maxCoeff(&future.last_column);
  const auto& last = windows.stints.back();
  future.dwell_hours = median_dwell_s(windows) / 3600.0;
  future.next_hour =
      std::max(last.to_s / 3600.0, future.now.hours.back()) + 0.6 * future.dwell_hours;
  future.stint_noise = series::median(future.now.noise);
  return future;
}

/// The burn with `count` more stints that take their settings from `order` in turn.
Layout extended(const Future& future, int count, const std::vector<int>& order) {
  Layout layout = future.now;
  auto& rows = layout.rows.front();
  const auto before = rows.rows();
  rows.conservativeResize(before + count, Eigen::NoChange);
  int column = future.last_column;
  int stretch = layout.stretch.back();
  for (int k = 0; k < count; ++k) {
    const int next = order[static_cast<std::size_t>(k) % order.size()];
    if (next != column) ++stretch;
    column = next;
    layout.stretch.push_back(stretch);
    layout.hours.push_back(future.next_hour + k * future.dwell_hours);
    layout.noise.push_back(future.stint_noise);
    rows.row(before + k) = Eigen::RowVectorXd::Unit(rows.cols(), next);
  }
  return layout;
}

double variance(const Layout& layout, const Eigen::VectorXd& contrast, const Scales& scales) {
  const auto L = factor(layout, {scales.drift / scales.noise, scales.resetting / scales.noise});
  const Eigen::MatrixXd A = L.triangularView<Eigen::Lower>().solve(layout.rows.front());
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
  int closed_stints;
  double matters_k;
};

class Outlook {
 public:
  Outlook(const Windows& windows, const Question& question)
      : question_(question), future_(future_of(windows, question.measured)) {
    const int a = question.measured.column_of(question.from);
    const int b = question.measured.column_of(question.to);
    const auto p = question.measured.effects()->layout().settings();
    contrast_ = Eigen::VectorXd::Unit(p, b) - Eigen::VectorXd::Unit(p, a);
    mean_ = numeric::mean(question.measured.posterior()->law(contrast_));
    scales_ = question.measured.posterior()->typical_scales(contrast_, typical_nodes);
    for (const auto& s : scales_) now_.push_back(variance(future_.now, contrast_, s));
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
    const auto layout = extended(future_, count, order);
    const int stretches = 1 + layout.stretch.back() - layout.stretch.front();
    const double degrees = std::max(1, stretches - layout.settings()) + prior_degrees;
    const double error = sidak(look_error(question_.closed_stints + count), question_.comparisons);
    const double t = numeric::students_t_upper_quantile(0.5 * error, degrees);
    double sum = 0.0;
    for (std::size_t k = 0; k < scales_.size(); ++k) {
      const double then = variance(layout, contrast_, scales_[k]);
      sum += chance_settled(mean_, std::sqrt(std::max(0.0, now_[k] - then)), t * std::sqrt(then),
                            question_.matters_k);
    }
    return sum / static_cast<double>(scales_.size());
  }

  Question question_;
  Future future_;
  Eigen::VectorXd contrast_;
  double mean_ = 0.0;
  std::vector<Scales> scales_;
  std::vector<double> now_;
  std::vector<std::vector<int>> orders_;
};

/// Fewest stints that reach the chance. The chance grows with the stints but for small dents, so
/// the search is by halving.
std::optional<int> fewest(const Windows& windows, const Question& question) {
  const Outlook outlook(windows, question);
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
      change.needs_stints = fewest(evidence.windows, {measured, change.from, change.to, comparisons,
                                                      evidence.closed_stints, evidence.matters_k});
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
      const auto one = fewest(evidence.windows, {tables.differences[static_cast<std::size_t>(k)],
                                                 change.from, change.to, pairs * tables.all_pairs,
                                                 evidence.closed_stints, evidence.matters_k});
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
