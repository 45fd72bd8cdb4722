#pragma once

#include "call/report.h"

namespace pitwright::call {

/// Gives every change of the report the word, joint range and reasons that it had at the last
/// close. Spots are known by their names, tilts by their axes; what was not measured then has no
/// word yet: "not yet", and a joint range without end. Reasons that the report lacks are added to
/// its troubles.
void keep_words(const Report& at_close, Report& report);

}  // namespace pitwright::call
