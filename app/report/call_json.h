#pragma once

#include <string>

#include "report/call_view.h"

namespace pitwright::report {

/// The call as one JSON document (docs/reference/call.md), two blanks of indent, a newline at the
/// end. Keys are never missing: null stands where a number cannot be given.
std::string call_json(const CallView& view);

}  // namespace pitwright::report
