#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.h"
#include "documents/value.h"

namespace pitwright::documents {

/// A document's text as values. `file` is its name in messages.
/// Fails: bad_input, one sentence with file, line and column.
Result<Table> parse_toml(std::string_view text, std::string_view file);

/// A whole document from a file. Fails: not_found; bad_input (also for anything above 16 MB: that
/// is no document, it is a log).
Result<Table> read_toml(const std::filesystem::path& path);

}  // namespace pitwright::documents
