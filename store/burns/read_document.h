#pragma once

#include <filesystem>
#include <vector>

#include "base/result.h"
#include "documents/burn_document.h"
#include "logs/log.h"

namespace pitwright::burns {

/// The burn.toml that a path on the command line means: the file itself, or the one in the
/// directory. Fails: not_found.
Result<std::filesystem::path> document_path(const std::filesystem::path& path);

/// Reads every log of a document, in its order. Fails like read_log.
Result<std::vector<logs::Log>> read_logs(const documents::BurnDocument& document);

}  // namespace pitwright::burns
