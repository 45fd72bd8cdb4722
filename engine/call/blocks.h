#pragma once

#include <vector>

#include <Eigen/Core>

#include "call/errors_model.h"
#include "call/panel.h"
#include "call/windows.h"

namespace pitwright::call {

/// One stretch of counting time that is averaged as a whole: whole swings wherever it can hold
/// them.
struct Block {
  int first, last;     ///< panel moments [first, last)
  int stint;           ///< of Windows::stints
  int stretch;         ///< adjacent stints of one setting are one stretch; from 0
  int setting;         ///< of Windows::settings
  double middle_s;     ///< mean time of its good moments
  double good = 1.0;   ///< share of its moments that count
  double noise = 1.0;  ///< variance of its noise, in standard blocks
};

/// Which moments count, and the spots that make the level.
struct Moments {
  std::vector<char> good;        ///< per panel moment: counted, not excluded, every level spot read
  std::vector<int> level_spots;  ///< of Panel::spots; read in every counted stint, not suspect
};

/// The spots fit for the level and the moments at which all of them are read.
/// A spot is left out where the probe's own checks found it touching metal or jumping, or where it
/// is missing for more than a fifth of the counted moments of any stint: the same spots stand on
/// both sides of every comparison. Where that would leave no spot, suspect ones stay in.
Moments find_moments(const Panel& panel, const Windows& windows);

/// Cuts what counts of every stint into blocks.
///   Length: the swing's period times the smallest whole number that makes it 3 min or more; 5 min
///   where there is no steady swing; longer where a burn would need more than `most` blocks.
///   With a swing, blocks are counted from the window's end; what is left over at its start is a
///   block of its own from two fifths of a block on, noisier by its length and by what a part of a
///   swing leaves in its mean, and is dropped below that. A window shorter than a block is one such
///   block. Without a swing, blocks are stretched to fill the window.
///   A block with under 60 % good moments is dropped.
/// `only_closed`: leave out stints that are not closed yet.
std::vector<Block> cut_blocks(const Panel& panel, const Windows& windows, const Moments& moments,
                              bool only_closed, int most = 96);

/// The blocks as the model of the errors sees them: hours, stretches, noise. Rows and nuisances are
/// the caller's to add.
Layout layout_of(const std::vector<Block>& blocks);

/// Length of a standard block [s] at this swing.
double standard_block_s(const Swing& swing);

/// Which stretch each stint belongs to, from 0; -1 for a stint of which nothing counts. A stint
/// without counted time between two of one setting does not join them: something was moved.
std::vector<int> stretches(const Windows& windows);

/// How a change comes in: rest(t) = exp(-t / lag) of it is still to come.
struct Settling {
  double lag_s = 0.0;  ///< 0: at once
};

/// Share of each setting in each block, averaged over the block: every change of setting brings in
/// 1 - rest(t) of the new one and takes as much of the old one away; changes add up. The first
/// stint starts settled. Shares sum to 1. A setting without a block of its own lends its share to
/// the block's own setting. Shapes: result blocks x windows.settings.
Eigen::MatrixXd settling_rows(const std::vector<Block>& blocks, const Panel& panel,
                              const Windows& windows, const Settling& settling);

}  // namespace pitwright::call
