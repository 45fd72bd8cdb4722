#pragma once

#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "burns/draft.h"

namespace pitwright::burns {

/// A burn directory that was begun.
struct Begun {
  std::filesystem::path document;
  std::vector<std::filesystem::path> copied;  ///< logs put beside it
  std::string to_mend;                        ///< why it cannot be opened yet; empty where it can
};

/// Begins a burn in `directory`: copies the logs into it (one that lies there already stays),
/// drafts burn.toml and opens it to see whether it can be read. Never overwrites a file.
/// Fails: bad_input and not_found like read_log and draft_burn, before anything is written;
/// conflict where burn.toml or another log of the same name is there already.
Result<Begun> begin_burn(const DraftRequest& request, std::span<const std::filesystem::path> logs,
                         const std::filesystem::path& directory);

}  // namespace pitwright::burns
