#pragma once

#include <string>

#include "report/call_view.h"

namespace pitwright::report {

/// The call as a page for a terminal, at most 98 columns wide: the sentence, what was read, the
/// whole chamber, the spots, the trouble, how sure all this is. `explain` adds what each number
/// rests on.
std::string call_text(const CallView& view, bool explain);

}  // namespace pitwright::report
