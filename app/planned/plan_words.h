#pragma once

#include <string>
#include <vector>

#include "planned/plan_view.h"

namespace pitwright::planned {

/// "A B B A"; names longer than a letter are set apart by commas.
std::string order_text(const PlanView& view, const design::Plan& plan);

/// The plans in a breath: which one, how long, and what it would tell.
std::string plan_sentence(const PlanView& view);

/// "4 in from the left wall, 2 in from the door side, 6 in up" (to the grate); what is not known is
/// left out.
std::string place_text(const design::PlannedSpot& spot, Scale scale);

/// "5 to 8 lb".
std::string fuel_text(const design::FuelNeed& need, Scale scale);

/// What rests on a guess, and what the pit's file does not say: a sentence each.
std::vector<std::string> notes(const PlanView& view);

}  // namespace pitwright::planned
