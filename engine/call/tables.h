#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "call/block_means.h"
#include "call/measured.h"
#include "call/one_sided.h"

namespace pitwright::call {

/// Everything the call asks about, solved on one set of blocks.
struct Tables {
  std::vector<Block> blocks;
  std::vector<TiltContrast> tilt_contrasts;
  Measured level;
  std::vector<Measured> runs, readings;  ///< per Panel::spots
  std::vector<Measured> tilts;           ///< per tilt_contrasts
  std::optional<Measured> dial_gap;
  std::vector<std::pair<int, int>> pairs;  ///< of level spots, first < second
  std::vector<Measured> differences;       ///< first minus second, per pair
  /// Where a lid from which some spots came back slowly spoils all there is of a setting.
  struct Spoiling {
    SpoilingLids level, spread, dial_gap;
    std::vector<SpoilingLids> runs, tilts;
  } spoiling;
  int all_pairs = 0;  ///< how many there are; `pairs` may leave out inner ones

  bool empty() const { return blocks.empty(); }
};

/// Priors of what is made of the spots' runs and moves `size` times as strongly as one of them: its
/// errors are expected that much larger, and it leans that much on the level's changes.
ScalePriors lay_priors(double size);

/// Priors of a tilt on which independent errors of the spots act `size` times as strongly as one of
/// them: neighbors err together, so it is expected to do worse than that.
ScalePriors tilt_priors(double size);

/// What nobody knows of the level's errors before the burn. The level of a fire that swings widely
/// also wanders widely: its drift and noise are expected in proportion to the swing.
ScalePriors level_priors(const Swing& swing);

/// `only_closed`: as known when the last stint closed.
Tables make_tables(const Panel& panel, const Windows& windows, const Moments& moments,
                   bool only_closed);

/// Half width at 95 % of what the thermometers' own errors leave open [K]; probes are independent
/// but for the part that a roll call shares among them, which cancels in differences. level: of the
/// mean of the level spots; run: of a spot against that mean; and so on.
double level_uncertainty_k(const Panel& panel, const Moments& moments);
double run_uncertainty_k(const Panel& panel, const Moments& moments, int spot);
double tilt_uncertainty_k(const Panel& panel, const TiltContrast& tilt);
double pair_uncertainty_k(const Panel& panel, std::pair<int, int> pair);

/// The part of a spot's uncertainty that is its thermometer's alone [K].
double own_uncertainty_k(const PanelSpot& spot);

}  // namespace pitwright::call
