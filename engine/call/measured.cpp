#include "call/measured.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "base/expects.h"

namespace pitwright::call {
namespace {

/// Rows that differ by less than this share of a change need no integration over the lag.
constexpr double same_rows = 2e-3;

/// The blocks' layout with its rows at every way of settling; `columns` of the settings, -1: none.
Layout settled_layout(const std::vector<Block>& blocks, const Panel& panel, const Windows& windows,
                      const std::vector<int>& columns) {
  Layout layout = layout_of(blocks);
  std::vector<int> counted;
  for (int k = 0; k < std::ssize(columns); ++k)
    if (columns[static_cast<std::size_t>(k)] >= 0) counted.push_back(k);
  const auto nodes = settling_nodes(windows);
  double widest = 0.0;
  for (const auto& settling : nodes.settling) {
    layout.rows.emplace_back(settling_rows(blocks, panel, windows, settling)(Eigen::all, counted));
    widest = std::max(widest, (layout.rows.back() - layout.rows.front()).cwiseAbs().maxCoeff());
  }
  layout.lag_weights = nodes.weight;
  if (widest < same_rows && layout.rows.size() > 1) {
    layout.rows.resize(1);
    layout.lag_weights = {1.0};
  }
  return layout;
}

}  // namespace

SettlingNodes settling_nodes(const Windows& windows) {
  const double lag = std::max(0.0, windows.lag_s), low = windows.lag_low_s,
               high = windows.lag_high_s;
  std::vector<std::pair<double, double>> lags = {{lag, 1.0}};
  if (windows.lag_borrowed && lag > 0.0 && low > 0.0 && high > low) {
    const double reach = std::sqrt(3.0) * 0.5 * std::log(high / low);
    lags = {
        {lag, 2.0 / 3.0}, {lag * std::exp(-reach), 1.0 / 6.0}, {lag * std::exp(reach), 1.0 / 6.0}};
  }
  SettlingNodes nodes;
  for (const auto& [lag_s, weight] : lags) {
    nodes.settling.push_back({lag_s});
    nodes.weight.push_back(weight);
  }
  return nodes;
}

bool Measured::has(int setting) const {
  return effects_ && columns_[static_cast<std::size_t>(setting)] >= 0;
}

Eigen::VectorXd Measured::unit(int setting) const {
  return Eigen::VectorXd::Unit(effects_->layout().settings(),
                               columns_[static_cast<std::size_t>(setting)]);
}

std::optional<numeric::NormalMixture> Measured::at(int setting) const {
  if (!has(setting)) return std::nullopt;
  return posterior_.law(unit(setting));
}

std::optional<numeric::NormalMixture> Measured::change(int from, int to) const {
  if (!has(from) || !has(to)) return std::nullopt;
  return posterior_.law(unit(to) - unit(from));
}

Eigen::VectorXd Measured::draw(numeric::Random& random) const {
  Eigen::VectorXd result =
      Eigen::VectorXd::Constant(std::ssize(columns_), std::numeric_limits<double>::quiet_NaN());
  if (!effects_) return result;
  const Eigen::VectorXd beta = posterior_.draw(random);
  for (int k = 0; k < std::ssize(columns_); ++k)
    if (has(k)) result(k) = beta(columns_[static_cast<std::size_t>(k)]);
  return result;
}

Posterior::Joint Measured::joint() const {
  constexpr double missing = std::numeric_limits<double>::quiet_NaN();
  const auto n = std::ssize(columns_);
  Posterior::Joint all{Eigen::VectorXd::Constant(n, missing),
                       Eigen::MatrixXd::Constant(n, n, missing)};
  if (!effects_) return all;
  const auto counted = posterior_.joint();
  for (int s = 0; s < n; ++s) {
    if (!has(s)) continue;
    all.mean(s) = counted.mean(column_of(s));
    for (int t = 0; t < n; ++t)
      if (has(t)) all.covariance(s, t) = counted.covariance(column_of(s), column_of(t));
  }
  return all;
}

std::vector<Measured> measure(const std::vector<Block>& blocks, const Panel& panel,
                              const Windows& windows, const Eigen::MatrixXd& y,
                              const Eigen::MatrixXd& nuisances,
                              const std::vector<ScalePriors>& priors, const ScaleGrid& grid) {
  expects(y.rows() == std::ssize(blocks) && std::ssize(priors) == y.cols());
  std::map<std::vector<int>, std::vector<int>> groups;  // blocks present -> quantities
  for (int k = 0; k < y.cols(); ++k) {
    std::vector<int> present;
    for (int b = 0; b < y.rows(); ++b)
      if (std::isfinite(y(b, k))) present.push_back(b);
    groups[present].push_back(k);
  }
  std::vector<Measured> result(static_cast<std::size_t>(y.cols()));
  for (auto& measured : result) measured.columns_.assign(windows.settings.size(), -1);
  for (const auto& [present, quantities] : groups) {
    if (present.empty()) continue;
    std::vector<Block> some;
    std::vector<int> columns(windows.settings.size(), -1);
    for (const int b : present) {
      some.push_back(blocks[static_cast<std::size_t>(b)]);
      columns[static_cast<std::size_t>(some.back().setting)] = 0;
    }
    int next = 0;
    for (auto& column : columns)
      if (column == 0) column = next++;
    auto layout = settled_layout(some, panel, windows, columns);
    if (nuisances.size() > 0) layout.nuisances = nuisances(present, Eigen::all);
    const auto effects = std::make_shared<const Effects>(
        std::move(layout), Eigen::MatrixXd(y(present, quantities)), grid);
    for (int i = 0; i < std::ssize(quantities); ++i) {
      const auto quantity = static_cast<std::size_t>(quantities[static_cast<std::size_t>(i)]);
      auto& measured = result[quantity];
      measured.effects_ = effects;
      measured.posterior_ = effects->posterior(i, priors[quantity]);
      measured.nuisance_sd_ = priors[quantity].nuisance_sd;
      measured.columns_ = columns;
      measured.blocks_ = present;
      measured.quantity_ = i;
    }
  }
  return result;
}

}  // namespace pitwright::call
