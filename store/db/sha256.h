#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace pitwright::db {

/// SHA-256 over bytes handed in piece by piece. Source: FIPS PUB 180-4, sections 4.1.2, 5 and 6.2.
class Sha256 {
 public:
  void add(std::string_view bytes);

  /// The digest as 64 hexadecimal digits. Nothing may be added afterwards.
  std::string hexadecimal();

 private:
  void take_block(const unsigned char* block);

  std::array<std::uint32_t, 8> h_{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a,
                                  0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};
  std::array<unsigned char, 64> block_{};
  std::size_t filled_ = 0;
  std::uint64_t bytes_ = 0;
};

}  // namespace pitwright::db
