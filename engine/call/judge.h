#pragma once

#include "call/call.h"
#include "call/panel.h"
#include "call/windows.h"

namespace pitwright::call {

/// The verdict once panel and windows are known: the second half of make_call.
/// `at_close`: where words come from while a stint is open; null: from the stints closed so far.
/// Pre: the panel has a spot; windows are those of the burn's stints.
Report judge(const Burn& burn, const Panel& panel, const Windows& windows,
             const Options& options = {}, const Report* at_close = nullptr);

/// What counts as the k-th look: stints that are closed and of which something counts.
int closed_stints(const Windows& windows);

}  // namespace pitwright::call
