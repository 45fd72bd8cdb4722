#include "call/spread.h"

#include <algorithm>
#include <cmath>

#include "call/words.h"
#include "numeric/random.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

using numeric::Interval;

constexpr int draw_count = 2001;

/// Half width of a standard normal's central range that leaves out `error`.
double normal_quantile(double error) {
  return numeric::upper_quantile({{{1.0, 0.0, 1.0}}}, 0.5 * error);
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

Interval Spread::widened(int pair, int setting, double error) {
  const double each = sidak(error, tables_.all_pairs);
  const auto range = numeric::central_interval(law(pair, setting), each);
  const double center = numeric::mean(law(pair, setting));
  // The probes' own 95 % half widths, stretched to hold for all pairs at once.
  const double stretch = normal_quantile(each) / normal_quantile(0.05);
  const double u =
      stretch * pair_uncertainty_k(panel_, tables_.pairs[static_cast<std::size_t>(pair)]);
  return {center - std::hypot(center - range.low, u), center + std::hypot(range.high - center, u)};
}

void Spread::make_draws() {
  if (!runs_.empty()) return;
  std::vector<int> spots;
  for (const auto& [i, j] : tables_.pairs) spots.insert(spots.end(), {i, j});
  std::ranges::sort(spots);
  spots.erase(std::ranges::unique(spots).begin(), spots.end());
  const auto settings = tables_.level.settings();
  runs_.assign(static_cast<std::size_t>(settings), Eigen::MatrixXd(std::ssize(spots), draw_count));
  with_probes_ = runs_;
  for (int i = 0; i < std::ssize(spots); ++i) {
    const auto spot = static_cast<std::size_t>(spots[static_cast<std::size_t>(i)]);
    numeric::Random random(20260502, spot);  // any fixed seed
    const double probe_sd = own_uncertainty_k(panel_.spots[spot]) / normal_quantile(0.05);
    for (int d = 0; d < draw_count; ++d) {
      const auto beta = tables_.runs[spot].draw(random);
      const double probe = probe_sd * random.normal();
      for (int s = 0; s < settings; ++s) {
        runs_[static_cast<std::size_t>(s)](i, d) = beta(s);
        with_probes_[static_cast<std::size_t>(s)](i, d) = beta(s) - probe;
      }
    }
  }
  for (auto& runs : runs_) draw_in(runs);
}

std::vector<double> Spread::draws(int setting, bool with_probes) {
  make_draws();
  const auto& runs = (with_probes ? with_probes_ : runs_)[static_cast<std::size_t>(setting)];
  std::vector<double> spread;
  for (int d = 0; d < draw_count; ++d)
    spread.push_back(runs.col(d).maxCoeff() - runs.col(d).minCoeff());
  return spread;
}

std::optional<Estimate> Spread::at(int setting, double error) {
  if (!has(setting)) return std::nullopt;
  // The range of a maximum over pairs and both their directions.
  Interval range{0.0, 0.0};
  for (int k = 0; k < std::ssize(tables_.pairs); ++k) {
    const auto pair = widened(k, setting, error);
    range.low = std::max({range.low, pair.low, -pair.high});
    range.high = std::max({range.high, pair.high, -pair.low});
  }
  const double value = series::median(draws(setting, false));
  return Estimate{std::clamp(value, range.low, range.high), range.low, range.high};
}

std::optional<Estimate> Spread::change(int from, int to, double error) {
  if (!has(from) || !has(to)) return std::nullopt;
  const auto moves = [&](bool with_probes) {
    auto after = draws(to, with_probes);
    const auto before = draws(from, with_probes);
    for (std::size_t d = 0; d < after.size(); ++d) after[d] -= before[d];
    std::ranges::sort(after);
    return after;
  };
  const auto all = moves(true);
  const auto rank = [&](double p) { return all[static_cast<std::size_t>(p * (draw_count - 1))]; };
  const double value = series::median(moves(false));
  double below = std::max(0.0, value - rank(0.025)), above = std::max(0.0, rank(0.975) - value);
  double stretch = 1.0;
  for (const int setting : {from, to}) {
    const int pair = widest_pair(setting);
    const auto law = *tables_.differences[static_cast<std::size_t>(pair)].change(from, to);
    const auto plain = numeric::central_interval(law, 0.05);
    const auto wide = error == 0.05 ? plain : numeric::central_interval(law, error);
    const double center = numeric::mean(law);
    const bool up = numeric::mean(this->law(pair, setting)) >= 0.0;
    below = std::max(below, up ? center - plain.low : plain.high - center);
    above = std::max(above, up ? plain.high - center : center - plain.low);
    stretch = std::max(stretch, (wide.high - wide.low) / (plain.high - plain.low));
  }
  return Estimate{value, value - stretch * below, value + stretch * above};
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
