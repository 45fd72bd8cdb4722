#pragma once

#include <cstdint>

#include "documents/table_reader.h"
#include "rehearse/scenarios.h"

namespace pitwright::rehearsal {

/// Left, middle and right on every grate the pit names; on one at mid height where it names none.
void put_plain_spots(rehearse::PitModel& model);

/// Fills what a [rehearse] table left out: spots, settings from the first adjustment's positions
/// (else A and B) with effects drawn from `seed`, a thermostat that can hold the pit where it
/// `has_fire` not, thermometers, plan.
void complete(rehearse::Scenario& scenario, std::uint64_t seed, bool has_fire);

/// The [[rehearse.logger]] tables.
void read_kit(documents::Reading& reading, documents::TableReader& outer,
              rehearse::Scenario& scenario);

}  // namespace pitwright::rehearsal
