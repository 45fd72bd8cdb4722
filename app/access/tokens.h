#pragma once

#include <string>
#include <string_view>

namespace pitwright::access {

/// 256 bits from the system's random source as 43 characters of base64url (RFC 4648 section 5).
std::string new_token();

/// SHA-256 of a token, hexadecimal. A token is random, so that no salt or slow hash is needed.
std::string digest_of(std::string_view token);

/// Whether two texts are the same, in a time that depends on their lengths only.
bool is_same(std::string_view a, std::string_view b);

}  // namespace pitwright::access
