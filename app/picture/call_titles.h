#pragma once

#include <string>

#include "report/call_view.h"

namespace pitwright::picture {

/// Title of the burn, else of the pit.
std::string burn_title(const report::CallView& view);

/// "Tin hopper · 2 May 2026 · 6 spots · stints A B B A", as much of it as is known.
std::string burn_facts(const report::CallView& view);

}  // namespace pitwright::picture
