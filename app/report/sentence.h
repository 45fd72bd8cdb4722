#pragma once

#include <string>

#include "report/call_view.h"

namespace pitwright::report {

/// The call in a breath: where the heat went, what the whole chamber did, what is still open and
/// how to settle it. Short spoken sentences; never stronger than the words of the report. A spot is
/// only ever told against the whole chamber.
std::string sentence(const CallView& view);

}  // namespace pitwright::report
