#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"
#include "logs/log.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// A burn directory, read: the engine's value and what was understood on the way.
struct OpenBurn {
  Burn burn;
  std::filesystem::path document;    ///< the burn.toml
  std::vector<logs::Log> logs;       ///< as understood; their readings are in the burn
  std::vector<std::string> assumed;  ///< for people: every default and inference
};

/// Opens a burn: `path` is a directory that holds burn.toml, or the file itself. Paths inside are
/// relative to it.
/// Fails: not_found; bad_input naming file, line, column, what was expected and the nearest known
/// name.
Result<OpenBurn> open_burn(const std::filesystem::path& path);

}  // namespace pitwright::burns
