#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace pitwright::db {

/// Bytes in zlib's format (RFC 1950).
std::string squeezed(std::string_view bytes);

/// The bytes again; empty where they are damaged or do not have this size.
std::optional<std::string> unsqueezed(std::string_view packed, std::size_t size);

}  // namespace pitwright::db
