#include "call/spread.h"

#include <algorithm>
#include <cmath>

#include "call/words.h"
#include "numeric/random.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

using numeric::Interval;

constexpr int draw_count = 401;
constexpr double share_for_members = 0.2;  // of the error: which pair is widest

/// Range of a maximum over pairs and both their directions.
Interval spread_range(const std::vector<Interval>& ranges) {
  Interval result{0.0, 0.0};
  for (const auto& r : ranges) {
    result.low = std::max({result.low, r.low, -r.high});
    result.high = std::max({result.high, r.high, -r.low});
  }
  return result;
}

/// Draws of every spot's run at one setting, drawn in towards their mean by what their errors, not
/// the spots, scatter: keep = scatter beyond error / (scatter beyond error + error), as variances.
/// Few spots cannot tell their own scatter; they are left as they are.
void draw_in(Eigen::MatrixXd& runs) {
  const auto n = runs.rows();
  const Eigen::VectorXd means = runs.rowwise().mean();
  runs.colwise() -= means;
  const Eigen::VectorXd errors = runs.rowwise().squaredNorm() / static_cast<double>(runs.cols());
  const double center = means.mean();
  const double scatter =
      (means.array() - center).square().sum() / std::max(1.0, static_cast<double>(n - 1));
  const double beyond = std::max(0.0, scatter - errors.mean());
  for (int i = 0; i < n; ++i) {
    const double keep = n < 4 ? 1.0 : beyond / (beyond + errors(i));
    runs.row(i) *= std::sqrt(keep);
    runs.row(i).array() += center + keep * (means(i) - center);
  }
}

}  // namespace

Spread::Spread(const Tables& tables, const Panel& panel) : tables_(tables), panel_(panel) {}

bool Spread::has(int setting) const {
  return !tables_.pairs.empty() && std::ranges::all_of(tables_.differences, [=](const Measured& m) {
    return m.has(setting);
  });
}

const numeric::NormalMixture& Spread::law(int pair, int setting) {
  auto& law = laws_[{pair, setting}];
  if (law.components.empty())
    law = *tables_.differences[static_cast<std::size_t>(pair)].at(setting);
  return law;
}

const numeric::NormalMixture& Spread::change_law(int pair, int from, int to) {
  auto& law = change_laws_[{pair, from, to}];
  if (law.components.empty())
    law = *tables_.differences[static_cast<std::size_t>(pair)].change(from, to);
  return law;
}

Interval Spread::widened(int pair, int setting, double error) {
  const double each = sidak(error, tables_.all_pairs);
  const auto range = numeric::central_interval(law(pair, setting), each);
  const double center = numeric::mean(law(pair, setting));
  // The probes' own 95 % half widths, stretched to hold for all pairs at once.
  const numeric::NormalMixture normal{{{1.0, 0.0, 1.0}}};
  const double stretch =
      numeric::upper_quantile(normal, 0.5 * each) / numeric::upper_quantile(normal, 0.025);
  const double u =
      stretch * pair_uncertainty_k(panel_, tables_.pairs[static_cast<std::size_t>(pair)]);
  return {center - std::hypot(center - range.low, u), center + std::hypot(range.high - center, u)};
}

std::vector<Interval> Spread::all_widened(int setting, double error) {
  std::vector<Interval> ranges;
  for (int k = 0; k < std::ssize(tables_.pairs); ++k) ranges.push_back(widened(k, setting, error));
  return ranges;
}

const std::vector<double>& Spread::draws(int setting) {
  std::vector<int> spots;
  for (const auto& [i, j] : tables_.pairs) spots.insert(spots.end(), {i, j});
  std::ranges::sort(spots);
  spots.erase(std::ranges::unique(spots).begin(), spots.end());
  if (spot_draws_.empty()) {
    const auto settings = tables_.runs.empty() ? 0 : tables_.runs.front().settings();
    spot_draws_.assign(static_cast<std::size_t>(settings), Eigen::MatrixXd(std::ssize(spots), draw_count));
    for (int i = 0; i < std::ssize(spots); ++i) {
      const int spot = spots[static_cast<std::size_t>(i)];
      numeric::Random random(20260502, static_cast<std::uint64_t>(spot));  // any fixed seed
      for (int d = 0; d < draw_count; ++d) {
        const auto beta = tables_.runs[static_cast<std::size_t>(spot)].draw(random);
        for (int s = 0; s < settings; ++s) spot_draws_[static_cast<std::size_t>(s)](i, d) = beta(s);
      }
    }
    for (auto& runs : spot_draws_) draw_in(runs);
  }
  auto& spread = draws_[setting];
  if (spread.empty()) {
    const auto& runs = spot_draws_[static_cast<std::size_t>(setting)];
    for (int d = 0; d < draw_count; ++d)
      spread.push_back(runs.col(d).maxCoeff() - runs.col(d).minCoeff());
  }
  return spread;
}

std::optional<Estimate> Spread::at(int setting, double error) {
  if (!has(setting)) return std::nullopt;
  const auto range = spread_range(all_widened(setting, error));
  return Estimate{std::clamp(series::median(draws(setting)), range.low, range.high), range.low,
                  range.high};
}

std::optional<Estimate> Spread::change(int from, int to, double error) {
  if (!has(from) || !has(to)) return std::nullopt;
  const double members_error = 0.5 * share_for_members * error;
  const auto at_from = all_widened(from, members_error), at_to = all_widened(to, members_error);
  const auto from_range = spread_range(at_from), to_range = spread_range(at_to);
  const double change_error = sidak((1.0 - share_for_members) * error, tables_.all_pairs);
  Interval range{HUGE_VAL, -HUGE_VAL};
  for (int k = 0; k < std::ssize(tables_.pairs); ++k) {
    const auto i = static_cast<std::size_t>(k);
    // Both directions: first hotter than second, and the other way round.
    const bool from_up = at_from[i].high >= from_range.low;
    const bool from_down = -at_from[i].low >= from_range.low;
    const bool to_up = at_to[i].high >= to_range.low, to_down = -at_to[i].low >= to_range.low;
    if (!from_up && !from_down && !to_up && !to_down) continue;
    const auto moved = numeric::central_interval(change_law(k, from, to), change_error);
    if (from_up) range.low = std::min(range.low, moved.low);
    if (from_down) range.low = std::min(range.low, -moved.high);
    if (to_up) range.high = std::max(range.high, moved.high);
    if (to_down) range.high = std::max(range.high, -moved.low);
  }
  range.low = std::max(range.low, to_range.low - from_range.high);
  range.high = std::min(range.high, to_range.high - from_range.low);
  std::vector<double> moves = draws(to);
  const auto& before = draws(from);
  for (std::size_t d = 0; d < moves.size(); ++d) moves[d] -= before[d];
  return Estimate{std::clamp(series::median(moves), range.low, range.high), range.low, range.high};
}

int Spread::widest_pair(int setting) {
  if (!has(setting)) return -1;
  int widest = -1;
  double most = -1.0;
  for (int k = 0; k < std::ssize(tables_.pairs); ++k) {
    const double size = std::abs(numeric::mean(law(k, setting)));
    if (size > most) {
      most = size;
      widest = k;
    }
  }
  return widest;
}

}  // namespace pitwright::call
