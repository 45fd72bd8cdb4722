#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"
#include "burns/open_burn.h"
#include "call/thermometers.h"
#include "understood/understood.h"

namespace pitwright::rollcall {

/// What a burn's log says of its thermometers and clocks.
struct BurnView {
  burns::OpenBurn open;
  call::ThermometersSeen seen;
  std::vector<understood::LogView> logs;  ///< for their clocks
  Scale scale;                            ///< of the page
};

/// Opens a burn and looks at its thermometers. `scale`: empty for the burn's own.
/// Fails: as open_burn.
Result<BurnView> view_of_burn(const std::filesystem::path& path, std::optional<Scale> scale);

/// The page for people.
std::string burn_text(const BurnView& view);

/// The same as one JSON document (docs/reference/rollcall.schema.json).
std::string burn_json(const BurnView& view);

/// In a breath.
std::string sentence(const BurnView& view);

}  // namespace pitwright::rollcall
