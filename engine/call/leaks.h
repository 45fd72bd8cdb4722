#pragma once

#include <vector>

#include <Eigen/Core>

#include "call/blocks.h"

namespace pitwright::call {

/// How far a change of the whole chamber may still be under way in one place of it, as a share of
/// the change, before the burn has spoken: sd of the coefficients of the two columns of
/// `level_leaks`. A spot's own metal is slower or quicker than the others' by some minutes; the walls
/// follow within the hour and draw some spots more than others.
/// Source: our own choice, from the physics of docs/methods/rehearse.md; docs/methods/call.md.
struct LeakPriors {
  double fast = 0.25;
  double slow = 0.08;
};

/// What is still to come of the level's changes at each block, if it came with 8 min and with 40 min:
///   column(b) = sum over changes before b of (level after - level before) mean of exp(-t / lag)
/// A run, a tilt or the dial gap may lean on these with unknown coefficients: the level's change leaks
/// into them while it settles. Levels per setting come from one plain solve.
/// Shapes: level one a block [K]; result blocks x 2.
Eigen::MatrixXd level_leaks(const std::vector<Block>& blocks, const Panel& panel,
                            const Windows& windows, const Eigen::VectorXd& level);

}  // namespace pitwright::call
