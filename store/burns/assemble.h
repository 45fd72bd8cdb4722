#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "burns/clocks.h"
#include "documents/burn_document.h"
#include "logs/log.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// A burn made from its document and its logs, and everything inferred on the way.
struct Assembled {
  Burn burn;
  std::vector<std::string> assumed;  ///< for people
};

/// Merges a document and its logs (side by side with document.logs) into a burn: one clock, degC,
/// readings at their spots, times resolved. Readings are moved out of `logs`, whose channels are
/// left empty; files are not touched.
/// Fails: bad_input with file, line, column, what was expected and the nearest known name.
Result<Assembled> assemble(const documents::BurnDocument& document, std::vector<logs::Log>& logs,
                           const Clocks& clocks);

/// The same with the clocks put together first.
Result<Assembled> assemble(const documents::BurnDocument& document, std::vector<logs::Log>& logs);

}  // namespace pitwright::burns
