#pragma once

#include "rehearse/bodies.h"
#include "rehearse/model.h"

namespace pitwright::rehearse {

/// A small pit for tests: steel box, two spots, settings A and B, a thermostat at 120 degC.
inline PitModel test_box() {
  PitModel model;
  model.pit.name = "test box";
  model.set_c = 120;
  model.body = thin_steel_box();
  model.fire = pellet_relay(1650);
  model.plate_excess_k = 95;
  for (int i = 0; i < 2; ++i) {
    Spot spot;
    spot.name = i == 0 ? "left" : "right";
    spot.x_m = i == 0 ? 0.1 : 0.5;
    model.spots.push_back(spot);
  }
  Setting a;
  a.name = "A";
  a.lean_k = {4, -4};
  Setting b = a;
  b.name = "B";
  b.lean_k = {-2, 2};
  model.settings = {a, b};
  return model;
}

}  // namespace pitwright::rehearse
