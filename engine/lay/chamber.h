#pragma once

#include <vector>

#include "call/together.h"
#include "lay/lattice.h"
#include "lay/lay.h"
#include "pit/pit.h"

namespace pitwright::lay {

/// Where the spots lie; NaN rows have no place on the map.
struct Places {
  Eigen::MatrixXd at;  ///< spots x 3
  bool height_assumed = false;
};
Places places_of(const Pit& pit, const std::vector<call::SpotTogether>& spots);

/// The chamber's inside: as the pit says, and at least what holds the spots.
struct Box {
  Eigen::Array3d low, high;
  bool size_unknown = false;  ///< width or depth came from the spots
};
Box box_of(const Pit& pit, const Eigen::MatrixXd& places);

/// A lattice for every grate that has a height: the pit's, and those that only spots name. Without
/// any, one at the spots' mean height.
std::vector<Lattice> grates_of(const Pit& pit, const Box& box, const std::vector<LaySpot>& spots,
                               int nodes_x, int nodes_y);

/// What the spots' places leave open.
std::vector<LayNote> place_notes(const Eigen::MatrixXd& places, const Box& box);

}  // namespace pitwright::lay
