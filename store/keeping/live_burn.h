#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "burns/assemble.h"
#include "db/store.h"

namespace pitwright::keeping {

/// A thermometer at its place, without readings.
Probe probe_of(const db::Placement& placement);

/// The engine's value of a live burn, from what the store has of it: the same that reading a burn
/// directory with the same samples, probes, stints and events gives. `records` is the whole
/// history; what was taken back or corrected does not count.
///
/// The zero is the first sample. A stint ends where it was said to, at the latest where the next
/// begins; the last one, where nothing was said, with the last sample. A placement ends where the
/// channel's next one begins. Probes without a reading and stints that have not begun by the last
/// sample are left out, and said. Fails: bad_input where there is no sample yet.
Result<burns::Assembled> live_burn(const db::BurnLine& line, std::span<const db::Record> records,
                                   std::span<const db::Series> samples);

}  // namespace pitwright::keeping
