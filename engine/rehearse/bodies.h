#pragma once

#include "rehearse/model.h"

namespace pitwright::rehearse {

// Bodies of our own invention; sizes follow from wall areas and masses, worked out in
// docs/methods/rehearse.md.

Body thin_steel_box();     ///< hopper-fed box, single skin
Body long_steel_barrel();  ///< offset firebox, 6 mm steel
Body steel_cabinet();      ///< tall, double skin
Body ceramic_egg();        ///< 25 mm ceramic, tight
Body brick_room();         ///< masonry, hours to soak
Body steel_drum();         ///< upright, single skin, coals below
Body gas_tray();           ///< low steel tray over burners

/// Fires that go with them; their swing is set by aim_swing().
Fire pellet_relay(double mean_w);
Fire charcoal_fan(double mean_w);
Fire gas_relay(double mean_w);
Fire wood_splits(double mean_w, double period_s);

}  // namespace pitwright::rehearse
