#include "logs/encoding.h"

#include <algorithm>
#include <array>
#include <utility>

namespace pitwright::logs {
namespace {

using namespace std::string_view_literals;

void append_utf8(unsigned code, std::string& out) {
  const auto byte = [&out](unsigned value) { out += static_cast<char>(value); };
  if (code < 0x80) {
    byte(code);
  } else if (code < 0x800) {
    byte(0xC0 | (code >> 6));
    byte(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    byte(0xE0 | (code >> 12));
    byte(0x80 | ((code >> 6) & 0x3F));
    byte(0x80 | (code & 0x3F));
  } else {
    byte(0xF0 | (code >> 18));
    byte(0x80 | ((code >> 12) & 0x3F));
    byte(0x80 | ((code >> 6) & 0x3F));
    byte(0x80 | (code & 0x3F));
  }
}

constexpr unsigned replacement = 0xFFFD;

unsigned char at(std::string_view bytes, std::size_t i) {
  return static_cast<unsigned char>(bytes[i]);
}

/// Length of the well-formed UTF-8 character at `i`, 0 where there is none. Source: The Unicode
/// Standard 15, table 3-7.
std::size_t utf8_length(std::string_view bytes, std::size_t i) {
  const unsigned lead = at(bytes, i);
  if (lead < 0x80) return 1;
  const std::size_t n = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || i + n > bytes.size()) return 0;
  const unsigned second = at(bytes, i + 1);
  const unsigned low = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
  const unsigned high = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
  if (second < low || second > high) return 0;
  for (std::size_t k = 2; k < n; ++k) {
    if ((at(bytes, i + k) & 0xC0) != 0x80) return 0;
  }
  return n;
}

/// UTF-16 without a mark: text of a log is nearly all ASCII, so every other byte is zero.
std::optional<Encoding> unmarked_utf16(std::string_view bytes) {
  std::array<std::size_t, 2> zeros{};
  const std::size_t n = std::min<std::size_t>(bytes.size(), 4096);
  if (n < 4) return std::nullopt;
  for (std::size_t i = 0; i < n; ++i) zeros[i % 2] += bytes[i] == '\0';
  if (zeros[1] * 10 > n * 4 && zeros[0] * 20 < n) return Encoding::utf16_le;
  if (zeros[0] * 10 > n * 4 && zeros[1] * 20 < n) return Encoding::utf16_be;
  return std::nullopt;
}

bool is_latin1(std::string_view bytes) {
  std::size_t good = 0, letters = 0, others = 0;
  for (std::size_t i = 0; i < bytes.size();) {
    const auto n = utf8_length(bytes, i);
    good += n > 1;
    if (n == 0) (at(bytes, i) >= 0xA0 ? letters : others) += 1;
    i += std::max<std::size_t>(n, 1);
  }
  return letters > good + others;
}

}  // namespace

EncodingGuess guess_encoding(std::string_view first_bytes) {
  if (first_bytes.starts_with("\xEF\xBB\xBF"sv)) return {Encoding::utf8, 3};
  if (first_bytes.starts_with("\xFF\xFE"sv)) return {Encoding::utf16_le, 2};
  if (first_bytes.starts_with("\xFE\xFF"sv)) return {Encoding::utf16_be, 2};
  if (const auto utf16 = unmarked_utf16(first_bytes)) return {*utf16, 0};
  return {is_latin1(first_bytes) ? Encoding::latin1 : Encoding::utf8, 0};
}

std::optional<std::string> binary_kind(std::string_view first_bytes) {
  // Source: first bytes as given by each format's own specification (PNG: ISO/IEC 15948, 5.2).
  static constexpr std::array<std::pair<std::string_view, const char*>, 7> known{{
      {"\x89PNG\r\n\x1a\n"sv, "a PNG picture"},
      {"\xFF\xD8\xFF"sv, "a JPEG picture"},
      {"%PDF-"sv, "a PDF document"},
      {"PK\x03\x04"sv, "a zip archive or a spreadsheet; export the sheet as CSV"},
      {"\x1f\x8b"sv, "gzip-compressed; unpack it first"},
      {"SQLite format 3\0"sv, "an SQLite database"},
      {"\xD0\xCF\x11\xE0"sv, "an old spreadsheet; export the sheet as CSV"},
  }};
  for (const auto& [start, what] : known) {
    if (first_bytes.starts_with(start)) return what;
  }
  std::size_t control = 0;
  for (const char c : first_bytes) {
    const auto byte = static_cast<unsigned char>(c);
    control += (byte < 0x20 && byte != '\t' && byte != '\n' && byte != '\r') || byte == 0x7F;
  }
  if (control * 10 > first_bytes.size()) return "a binary file";
  return std::nullopt;
}

std::string to_utf8(std::string_view bytes, Encoding encoding) {
  std::string out;
  for (std::size_t i = 0; i < bytes.size();) {
    const auto n = encoding == Encoding::latin1 ? 0 : utf8_length(bytes, i);
    if (n > 0) {
      out += bytes.substr(i, n);
    } else {
      const unsigned byte = at(bytes, i);
      const bool known = encoding == Encoding::latin1 && (byte < 0x80 || byte >= 0xA0);
      append_utf8(known ? byte : replacement, out);
    }
    i += std::max<std::size_t>(n, 1);
  }
  return out;
}

std::string encoding_name(EncodingGuess guess) {
  const std::string mark = guess.mark > 0 ? ", with byte order mark" : "";
  switch (guess.encoding) {
    case Encoding::latin1:
      return "Latin-1";
    case Encoding::utf16_le:
      return "UTF-16 (little-endian)" + mark;
    case Encoding::utf16_be:
      return "UTF-16 (big-endian)" + mark;
    case Encoding::utf8:
      break;
  }
  return "UTF-8" + mark;
}

void Utf16Decoder::unit(unsigned value, std::string& out) {
  const bool high = value >= 0xD800 && value < 0xDC00;
  const bool low = value >= 0xDC00 && value < 0xE000;
  if (high_ != 0 && low) {
    append_utf8(0x10000 + ((high_ - 0xD800) << 10) + (value - 0xDC00), out);
    high_ = 0;
    return;
  }
  if (high_ != 0) append_utf8(replacement, out);
  high_ = high ? value : 0;
  if (!high) append_utf8(low ? replacement : value, out);
}

void Utf16Decoder::decode(std::string_view bytes, std::string& out) {
  for (const char c : bytes) {
    const int byte = static_cast<unsigned char>(c);
    if (pending_byte_ < 0) {
      pending_byte_ = byte;
      continue;
    }
    unit(static_cast<unsigned>(big_endian_ ? pending_byte_ * 256 + byte
                                           : byte * 256 + pending_byte_),
         out);
    pending_byte_ = -1;
  }
}

}  // namespace pitwright::logs
