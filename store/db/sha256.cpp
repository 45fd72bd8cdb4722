#include "db/sha256.h"

#include <algorithm>
#include <bit>

#include <fmt/format.h>

namespace pitwright::db {
namespace {

// The first 32 bits of the fractional parts of the cube roots of the first 64 primes.
constexpr std::uint32_t K[64] = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

}  // namespace

void Sha256::take_block(const unsigned char* block) {
  using std::rotr;
  std::uint32_t W[64];
  for (std::size_t t = 0; t < 16; ++t) {
    const auto* at = block + 4 * t;
    W[t] = std::uint32_t{at[0]} << 24 | std::uint32_t{at[1]} << 16 | std::uint32_t{at[2]} << 8 |
           std::uint32_t{at[3]};
  }
  for (std::size_t t = 16; t < 64; ++t) {
    const auto s0 = rotr(W[t - 15], 7) ^ rotr(W[t - 15], 18) ^ (W[t - 15] >> 3);
    const auto s1 = rotr(W[t - 2], 17) ^ rotr(W[t - 2], 19) ^ (W[t - 2] >> 10);
    W[t] = s1 + W[t - 7] + s0 + W[t - 16];
  }
  auto [a, b, c, d, e, f, g, h] = h_;
  for (std::size_t t = 0; t < 64; ++t) {
    const auto T1 =
        h + (rotr(e, 6) ^ rotr(e, 11) ^ rotr(e, 25)) + ((e & f) ^ (~e & g)) + K[t] + W[t];
    const auto T2 = (rotr(a, 2) ^ rotr(a, 13) ^ rotr(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
    h = g;
    g = f;
    f = e;
    e = d + T1;
    d = c;
    c = b;
    b = a;
    a = T1 + T2;
  }
  const std::uint32_t now[] = {a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < 8; ++i) h_[i] += now[i];
}

void Sha256::add(std::string_view bytes) {
  bytes_ += bytes.size();
  while (!bytes.empty()) {
    const auto part = std::min(bytes.size(), block_.size() - filled_);
    std::copy_n(bytes.data(), part, block_.begin() + static_cast<std::ptrdiff_t>(filled_));
    filled_ += part;
    bytes.remove_prefix(part);
    if (filled_ == block_.size()) {
      take_block(block_.data());
      filled_ = 0;
    }
  }
}

std::string Sha256::hexadecimal() {
  const auto bits = bytes_ * 8;
  add(std::string_view("\x80", 1));
  while (filled_ != 56) add(std::string_view("\0", 1));
  for (int shift = 56; shift >= 0; shift -= 8) {
    const char byte = static_cast<char>(bits >> shift & 0xff);
    add(std::string_view(&byte, 1));
  }
  std::string text;
  for (const auto word : h_) text += fmt::format("{:08x}", word);
  return text;
}

}  // namespace pitwright::db
