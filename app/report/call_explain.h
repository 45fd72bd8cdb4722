#pragma once

#include <string>

#include "report/call_view.h"

namespace pitwright::report {

/// One paragraph: what the ranges promise and how the thermometers' own error enters them.
std::string certainty_text(const CallView& view);

/// What each number rests on: every stint with the part that counts and what was left out, the
/// spots' own readings, and the engine's account.
std::string explain_text(const CallView& view);

}  // namespace pitwright::report
