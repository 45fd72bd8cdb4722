#pragma once

#include "db/store.h"
#include "readings/reading.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// Puts deliveries into a burn: readings as samples in one transaction, remarks as notes. What the
/// store can never take is named and left out; all else that fails is to be offered again.
Result<Taken> into_store(db::Store& store, db::BurnId burn, std::span<const Delivery> deliveries,
                         Troubles& troubles);

}  // namespace pitwright::feed
