#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace pitwright::logs {

enum class Encoding { utf8, latin1, utf16_le, utf16_be };

/// How the bytes of a file become text.
struct EncodingGuess {
  Encoding encoding = Encoding::utf8;
  std::size_t mark = 0;  ///< bytes of a byte order mark at the start
};

/// Tells the encoding from a byte order mark, else from the first bytes: zeros in every other place
/// mean UTF-16; bytes that are not UTF-8 but letters or signs of Latin-1 (ISO 8859-1) mean that.
EncodingGuess guess_encoding(std::string_view first_bytes);

/// What a file is that cannot be a table of text ("a PNG picture", "a binary file"); nullopt for
/// text. Pre: `first_bytes` are not UTF-16.
std::optional<std::string> binary_kind(std::string_view first_bytes);

/// A name or word of the file as UTF-8; bytes that mean nothing become U+FFFD.
std::string to_utf8(std::string_view bytes, Encoding encoding);

/// Words for people: "UTF-8", "UTF-16 (little-endian)".
std::string encoding_name(EncodingGuess guess);

/// Turns UTF-16 into UTF-8 piece by piece; a piece may end inside a character. Half a surrogate
/// pair becomes U+FFFD.
class Utf16Decoder {
 public:
  explicit Utf16Decoder(Encoding encoding) : big_endian_(encoding == Encoding::utf16_be) {}
  /// Appends the text of `bytes` to `out`.
  void decode(std::string_view bytes, std::string& out);

 private:
  void unit(unsigned value, std::string& out);

  bool big_endian_;
  int pending_byte_ = -1;
  unsigned high_ = 0;  ///< first half of a pair; 0: none
};

}  // namespace pitwright::logs
