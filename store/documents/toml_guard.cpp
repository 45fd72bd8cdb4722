#include "documents/toml_guard.h"

#include <array>
#include <cstdint>

namespace pitwright::documents {
namespace {

enum class Inside { keys, comment, basic, literal, long_basic, long_literal };

/// Length of the UTF-8 sequence at the front of `text`; 0 where it is broken.
/// Source: RFC 3629, section 4 (well-formed byte sequences).
std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : std::uint8_t{0};
  };
  const auto tail = [&](std::size_t i, unsigned low = 0x80, unsigned high = 0xBF) {
    return byte(i) >= low && byte(i) <= high;
  };
  const unsigned lead = byte(0);
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return tail(1) ? 2 : 0;
  if (lead >= 0xE0 && lead <= 0xEF) {
    const unsigned low = lead == 0xE0 ? 0xA0 : 0x80;
    const unsigned high = lead == 0xED ? 0x9F : 0xBF;
    return tail(1, low, high) && tail(2) ? 3 : 0;
  }
  if (lead >= 0xF0 && lead <= 0xF4) {
    const unsigned low = lead == 0xF0 ? 0x90 : 0x80;
    const unsigned high = lead == 0xF4 ? 0x8F : 0xBF;
    return tail(1, low, high) && tail(2) && tail(3) ? 4 : 0;
  }
  return 0;
}

/// Where the scan stands after a quote, and how many bytes the mark took.
struct Step {
  Inside inside;
  std::size_t bytes;
};

Step opened(std::string_view rest) {
  const bool basic = rest.front() == '"';
  if (rest.starts_with(basic ? R"(""")" : "'''")) {
    return {basic ? Inside::long_basic : Inside::long_literal, 3};
  }
  return {basic ? Inside::basic : Inside::literal, 1};
}

/// The next step of the scan at `rest`, which starts with an ASCII character.
Step step(Inside inside, std::string_view rest) {
  const char c = rest.front();
  const bool escapes = inside == Inside::basic || inside == Inside::long_basic;
  if (escapes && c == '\\' && rest.size() > 1 && static_cast<unsigned char>(rest[1]) < 0x80 &&
      rest[1] >= ' ') {
    return {inside, 2};
  }
  switch (inside) {
    case Inside::keys:
      if (c == '#') return {Inside::comment, 1};
      if (c == '"' || c == '\'') return opened(rest);
      break;
    case Inside::comment:
      if (c == '\n') return {Inside::keys, 1};
      break;
    case Inside::basic:  // a line's end closes it: the parser names that mistake
      if (c == '"' || c == '\n') return {Inside::keys, 1};
      break;
    case Inside::literal:
      if (c == '\'' || c == '\n') return {Inside::keys, 1};
      break;
    case Inside::long_basic:
      if (rest.starts_with(R"(""")")) return {Inside::keys, 3};
      break;
    case Inside::long_literal:
      if (rest.starts_with("'''")) return {Inside::keys, 3};
      break;
  }
  return {inside, 1};
}

bool is_control(char c) {
  return (static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t' && c != '\r') || c == 0x7F;
}

}  // namespace

Result<void> guard_toml(std::string_view text, std::string_view file) {
  Inside inside = Inside::keys;
  int line = 1;
  int column = 1;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  for (std::size_t at = 0; at < text.size();) {
    const auto rest = text.substr(at);
    const auto length = utf8_length(rest);
    if (length == 0) {
      return fail(ErrorKind::bad_input, "{}:{}:{}: this is not UTF-8; save the file as UTF-8", file,
                  line, column);
    }
    if (length > 1) {
      if (inside == Inside::keys) {
        return fail(ErrorKind::bad_input,
                    "{}:{}:{}: '{}' may stand only in a text in quotes or in a comment", file, line,
                    column, rest.substr(0, length));
      }
      at += length;
      ++column;
      continue;
    }
    if (is_control(rest.front()) ||
        (rest.front() == '\r' && (rest.size() == 1 || rest[1] != '\n'))) {
      return fail(ErrorKind::bad_input, "{}:{}:{}: control character (code {}); take it out", file,
                  line, column, static_cast<int>(rest.front()));
    }
    const auto next = step(inside, rest);
    if (rest.front() == '\n') {
      ++line;
      column = 1;
    } else {
      column += static_cast<int>(next.bytes);
    }
    inside = next.inside;
    at += next.bytes;
  }
  return {};
}

}  // namespace pitwright::documents
