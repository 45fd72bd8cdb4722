#pragma once

#include "call/call.h"

namespace pitwright::call {

/// The verdict on a burn that holds nothing later than options.as_known_at_s.
/// `at_close`: the verdict as it was when the last stint closed; words are taken over from it.
///     Null: words are read from what is known now, as far as stints are closed.
/// Fails: like make_call.
Result<Report> verdict(const Burn& known, const Options& options, const Report* at_close);

}  // namespace pitwright::call
