#pragma once

#include "feeds/feed_document.h"
#include "readings/outlet.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// Reads every thermometer of this computer at a steady pace until the feed ends; one that fails is
/// named once and does not stop the others, and new ones are looked for every half minute. Each
/// reading is stamped when its driver answered.
Result<void> run_sensors(const SensorsFeed& feed, Outlet& outlet, Troubles& troubles);

}  // namespace pitwright::feed
