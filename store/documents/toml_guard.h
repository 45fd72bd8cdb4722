#pragma once

#include <string_view>

#include "base/result.h"

namespace pitwright::documents {

/// Turns away text that the TOML library must not see: control characters anywhere, characters
/// outside ASCII where neither a string nor a comment holds them, and broken UTF-8.
/// Why: toml++ 3.3.0 reaches an assertion or undefined behavior on some of these.
/// Fails: bad_input with file, line and column [in characters].
Result<void> guard_toml(std::string_view text, std::string_view file);

}  // namespace pitwright::documents
