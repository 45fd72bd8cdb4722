#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::live {

/// What the fire document is made from.
struct FireView {
  const Burn& burn;
  const Result<call::Report>& made;  ///< the call, or why there is none
  Scale scale;
  bool is_live;
  std::optional<double> silent_s;  ///< how long nothing has been heard, by the wall's clock
};

/// The Fire of docs/reference/api.openapi.json, on one line.
std::string fire_json(const FireView& view);

/// The list of Latest of the same, on one line.
std::string latest_json(const Burn& burn, Scale scale);

}  // namespace pitwright::live
