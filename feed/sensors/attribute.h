#pragma once

#include <filesystem>
#include <string>

#include "base/result.h"

namespace pitwright::feed {

/// The text of a small file that a driver answers, at most 4 KiB. Fails: unavailable.
Result<std::string> attribute(const std::filesystem::path& file);

}  // namespace pitwright::feed
