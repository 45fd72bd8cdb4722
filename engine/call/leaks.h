#pragma once

#include <optional>
#include <vector>

#include <Eigen/Core>

#include "call/blocks.h"

namespace pitwright::call {

/// How far a change of the whole chamber may still be under way in one quantity, as a share of the
/// change, before the burn has spoken: sd of the coefficients of the two columns of `level_leaks`.
/// Source: our own choice, from the physics of docs/methods/rehearse.md; docs/methods/call.md.
struct LeakPriors {
  double fast, slow;
};

/// A spot against the level: its own metal is slower or quicker than the others' by some minutes;
/// the walls follow within the hour and draw some spots more than others.
inline constexpr LeakPriors of_a_spot{.fast = 0.25, .slow = 0.1};

/// The level itself. A controller that holds its sensor makes up for what the walls still take; a
/// fire that nothing holds goes with the walls, and most of a change may come with them.
inline constexpr LeakPriors of_a_held_level{.fast = 0.25, .slow = 0.18};
inline constexpr LeakPriors of_an_open_level{.fast = 0.4, .slow = 0.7};
/// Without a dial nobody knows which of the two it is.
inline constexpr LeakPriors of_any_level{.fast = 0.3, .slow = 0.3};

/// Which of them fits: the dial of a held fire moves much less than the level between the settings
/// whose levels differ most.
/// Shapes: level and dial_gap (dial less level) one a block.
LeakPriors level_leak_priors(const std::vector<Block>& blocks, const Eigen::VectorXd& level,
                             const std::optional<Eigen::VectorXd>& dial_gap);

/// What is still to come of the level's changes at each block, if it came with 8 min and with 50
/// min:
///   column(b) = sum over changes before b of (level after - level before) mean of exp(-t / lag)
/// A run, a tilt or the dial gap may lean on these with unknown coefficients: the level's change
/// leaks into them while it settles. Levels per setting come from one plain solve. Shapes: level
/// one a block [K]; result blocks x 2.
Eigen::MatrixXd level_leaks(const std::vector<Block>& blocks, const Panel& panel,
                            const Windows& windows, const Eigen::VectorXd& level);

/// The same, where the level at every setting is known; one entry a setting of the windows [K].
Eigen::MatrixXd leaks_between(const std::vector<Block>& blocks, const Panel& panel,
                              const Windows& windows, const Eigen::VectorXd& at);

}  // namespace pitwright::call
