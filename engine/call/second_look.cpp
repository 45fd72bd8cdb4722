#include "call/second_look.h"

#include <cmath>
#include <set>

namespace pitwright::call {
namespace {

/// The same blocks with one more column in the design.
Layout with_column(const Layout& layout, const std::vector<Eigen::VectorXd>& column_per_lag) {
  Layout wider = layout;
  for (std::size_t k = 0; k < wider.rows.size(); ++k) {
    wider.rows[k].conservativeResize(Eigen::NoChange, layout.settings() + 1);
    wider.rows[k].rightCols(1) = column_per_lag[k];
  }
  return wider;
}

struct Crude {
  double moved, shift;  ///< of the contrast; of the extra column's effect
};

/// Both at the quantity's typical scales: cheap, to see whether a full look is worth it.
Crude crude_look(const Measured& measured, const Layout& wider, const Eigen::VectorXd& contrast) {
  const auto& effects = *measured.effects();
  const auto scales = measured.posterior()->typical_scales(contrast, 1).front();
  const Eigen::MatrixXd L =
      factor(wider, {scales.drift / scales.noise, scales.resetting / scales.noise});
  const Eigen::MatrixXd y = effects.y().col(measured.quantity());
  const auto plain = solve(L, effects.layout().rows.front(), y);
  const auto extended = solve(L, wider.rows.front(), y);
  const auto p = contrast.size();
  return {contrast.dot(plain.beta.col(0)) - contrast.dot(extended.beta.col(0).head(p)),
          extended.beta(p, 0)};
}

/// The full model with the extra column: does its effect's range exclude zero?
std::optional<SecondLook> full_look(const Measured& measured, const Layout& wider,
                                    const Eigen::VectorXd& contrast, double error) {
  const Effects effects(wider, measured.effects()->y().col(measured.quantity()));
  const auto posterior = effects.posterior(0);
  const auto p = contrast.size();
  const auto range =
      numeric::central_interval(posterior.law(Eigen::VectorXd::Unit(p + 1, p)), error);
  if (range.low <= 0.0 && range.high >= 0.0) return std::nullopt;
  Eigen::VectorXd wide_contrast = Eigen::VectorXd::Zero(p + 1);
  wide_contrast.head(p) = contrast;
  return SecondLook{0.0, posterior.law(wide_contrast), -1};
}

Eigen::VectorXd contrast_of(const Measured& measured, int from, int to) {
  const auto p = measured.effects()->layout().settings();
  return Eigen::VectorXd::Unit(p, measured.column_of(to)) -
         Eigen::VectorXd::Unit(p, measured.column_of(from));
}

const Block& block_of(const Tables& tables, const Measured& measured, std::size_t i) {
  return tables.blocks[static_cast<std::size_t>(measured.blocks()[i])];
}

}  // namespace

std::optional<SecondLook> deciding_stretch(const Tables& tables, const Measured& measured, int from,
                                           int to, double matters_k, double error) {
  if (!measured.has(from) || !measured.has(to)) return std::nullopt;
  const auto& layout = measured.effects()->layout();
  const auto contrast = contrast_of(measured, from, to);
  std::set<int> of_from, of_to;
  for (std::size_t i = 0; i < measured.blocks().size(); ++i) {
    const auto& block = block_of(tables, measured, i);
    if (block.setting == from) of_from.insert(block.stretch);
    if (block.setting == to) of_to.insert(block.stretch);
  }
  std::optional<SecondLook> worst;
  for (const auto* stretches : {&of_from, &of_to}) {
    if (stretches->size() < 2) continue;
    for (const int stretch : *stretches) {
      Eigen::VectorXd inside(layout.blocks());
      for (int i = 0; i < layout.blocks(); ++i)
        inside(i) = layout.stretch[static_cast<std::size_t>(i)] == stretch ? 1.0 : 0.0;
      const auto wider =
          with_column(layout, std::vector<Eigen::VectorXd>(layout.rows.size(), inside));
      const auto crude = crude_look(measured, wider, contrast);
      if (std::abs(crude.moved) < 0.5 * matters_k) continue;
      if (worst && std::abs(worst->moved_k) >= std::abs(crude.moved)) continue;
      auto full = full_look(measured, wider, contrast, error);
      if (!full) continue;
      full->moved_k = crude.moved;
      full->stretch = stretch;
      worst = std::move(full);
    }
  }
  return worst;
}

std::optional<SecondLook> disagreeing_halves(const Tables& tables, const Measured& measured,
                                             int from, int to, double matters_k, double error) {
  if (!measured.has(from) || !measured.has(to)) return std::nullopt;
  const auto& layout = measured.effects()->layout();
  const double middle = 0.5 * (layout.hours.front() + layout.hours.back());
  bool present[2][2] = {{false, false}, {false, false}};
  Eigen::VectorXd half(layout.blocks());
  for (std::size_t i = 0; i < measured.blocks().size(); ++i) {
    const auto& block = block_of(tables, measured, i);
    const bool second = layout.hours[i] > middle;
    half(static_cast<Eigen::Index>(i)) = second ? 0.5 : -0.5;
    if (block.setting == from) present[second][0] = true;
    if (block.setting == to) present[second][1] = true;
  }
  if (!present[0][0] || !present[0][1] || !present[1][0] || !present[1][1]) return std::nullopt;
  const auto contrast = contrast_of(measured, from, to);
  std::vector<Eigen::VectorXd> columns;
  for (const auto& rows : layout.rows)
    columns.push_back(half.cwiseProduct(0.5 * (rows * contrast)));
  const auto wider = with_column(layout, columns);
  const auto crude = crude_look(measured, wider, contrast);
  if (std::abs(crude.shift) < matters_k) return std::nullopt;
  auto full = full_look(measured, wider, contrast, error);
  if (full) full->moved_k = crude.shift;
  return full;
}

}  // namespace pitwright::call
