#pragma once

#include <span>
#include <vector>

#include "browning/color.h"

namespace pitwright::browning {

/// Why a slice says nothing of the heat; `none` for one that counts.
enum class Flaw {
  none,
  glare,      ///< too much of it shines
  off_color,  ///< paler than bread of its lightness: a veil of glare, or no bread
  raw,        ///< hardly browned: cooler than toast can tell
  burnt,      ///< black: hotter than toast can tell
  touching,   ///< runs into its neighbor
  cut_off     ///< a part of a slice
};

struct Limits {
  double raw = 82.0;    ///< L* from which a slice counts as raw
  double burnt = 26.0;  ///< L* up to which it counts as burnt
};

/// Gives each slice without a flaw of the photograph's the flaw its color shows. Off color: its
/// chroma falls short of the robust parabola of chroma on lightness over the slices by more than 4
/// robust sds and more than 5 units; judged from 8 slices on.
/// Shapes: colors and flaws side by side.
void judge_colors(std::span<const Lab> colors, const Limits& limits, std::span<Flaw> flaws);

}  // namespace pitwright::browning
