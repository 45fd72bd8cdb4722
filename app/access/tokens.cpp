#include "access/tokens.h"

#include <array>
#include <cstdint>

#include <sys/random.h>

#include "base/expects.h"
#include "db/sha256.h"

namespace pitwright::access {
namespace {

constexpr std::string_view base64url =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

}  // namespace

std::string new_token() {
  std::array<std::uint8_t, 32> random{};
  expects(::getrandom(random.data(), random.size(), 0) == static_cast<ssize_t>(random.size()));
  std::string token;
  std::uint32_t bits = 0;
  int held = 0;
  for (const auto byte : random) {
    bits = bits << 8 | byte;
    held += 8;
    for (; held >= 6; held -= 6) token += base64url[bits >> (held - 6) & 63];
  }
  token += base64url[bits << (6 - held) & 63];
  return token;
}

std::string digest_of(std::string_view token) {
  db::Sha256 digest;
  digest.add(token);
  return digest.hexadecimal();
}

bool is_same(std::string_view a, std::string_view b) {
  unsigned difference = a.size() == b.size() ? 0 : 1;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const char other = b.empty() ? '\0' : b[i % b.size()];
    difference |= static_cast<unsigned char>(a[i] ^ other);
  }
  return difference == 0;
}

}  // namespace pitwright::access
