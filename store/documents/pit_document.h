#pragma once

#include <filesystem>

#include "base/result.h"
#include "documents/table_reader.h"
#include "pit/pit.h"

namespace pitwright::documents {

/// Reads pit.toml. Fails: not_found; bad_input with file, line, column and the nearest known name.
Result<Pit> read_pit(const std::filesystem::path& path);

/// The pit of a table: pit.toml's root or a burn's [pit]. Mistakes go to `reading`.
Pit pit_of(Reading& reading, const Table& table, std::string_view label);

}  // namespace pitwright::documents
