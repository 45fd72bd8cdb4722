#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::sheet {

/// One thing taken out of a burn, and the call on what is left.
struct Removal {
  enum class Kind { spot, stint };
  Kind kind = Kind::spot;
  std::string spot;  ///< for Kind::spot
  int stint = -1;    ///< index for Kind::stint
  /// Its settings stand in the order of the whole burn, its stint numbers are those of the whole
  /// burn. Fails where make_call fails on what is left.
  Result<call::Report> report;
};

/// The burn without the air thermometers at a spot, or without a stint (its readings stay).
Burn without_spot(const Burn& burn, const std::string& spot);
Burn without_stint(const Burn& burn, int stint);

/// The call again and again: without each spot, then without each stint; every entry is a whole
/// call by the engine. Nothing where that would leave none.
std::vector<Removal> single_removals(const Burn& burn);

/// The same report with its settings in the order of `wanted`; a change that then runs the other
/// way is turned round. Settings that `wanted` does not name come last.
call::Report in_order_of(call::Report report, const std::vector<std::string>& wanted);

}  // namespace pitwright::sheet
