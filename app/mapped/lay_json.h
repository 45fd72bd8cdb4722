#pragma once

#include <string>

#include "mapped/lay_view.h"

namespace pitwright::mapped {

/// The lay as one JSON document (docs/reference/lay.md) on one line, a newline at the end: grids
/// would fill pages. Keys are never missing: null stands where a number cannot be given.
std::string lay_json(const LayView& view);

}  // namespace pitwright::mapped
