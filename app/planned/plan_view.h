#pragma once

#include <string>

#include "design/design.h"

namespace pitwright::planned {

/// What a page about planned burns is made from.
struct PlanView {
  const Pit& pit;
  const design::Wishes& wishes;
  const design::Design& design;
  Scale
      scale;  ///< of the page; inches and pounds go with degF, centimetres and kilograms with degC
};

/// The plans for people.
std::string plan_text(const PlanView& view);

/// The same as one JSON document (docs/reference/design.schema.json).
std::string plan_json(const PlanView& view);

}  // namespace pitwright::planned
