#include "report/text_width.h"

#include <algorithm>
#include <iterator>
#include <span>

#include "report/width_ranges.h"

namespace pitwright::report {
namespace {

constexpr char32_t broken = 0xFFFD;
constexpr std::string_view replacement = "\xEF\xBF\xBD";

struct Decoded {
  char32_t code;
  std::size_t bytes;
};

/// The code point at the start of a text that is not empty; U+FFFD of one byte where it is broken.
Decoded first_code(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80) return {lead, 1};
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < bytes) return {broken, 1};
  char32_t code = lead & (0xFFU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return {broken, 1};
    code = code << 6 | (byte(i) & 0x3FU);
  }
  constexpr char32_t smallest[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool is_surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (code < smallest[bytes] || code > 0x10FFFF || is_surrogate) return {broken, 1};
  return {code, bytes};
}

bool is_in(std::span<const CodeRange> ranges, char32_t code) {
  const auto after = std::ranges::upper_bound(ranges, code, {}, &CodeRange::first);
  return after != ranges.begin() && code <= std::prev(after)->last;
}

int code_width(char32_t code) {
  if (is_in(zero_ranges, code)) return 0;
  return is_in(wide_ranges, code) ? 2 : 1;
}

/// Where the first word ends; a short bracket such as "(12 to 16)" is never torn apart.
std::size_t word_end(std::string_view text) {
  constexpr std::size_t longest_bracket = 24;
  const auto blank = std::min(text.find(' '), text.size());
  const auto open = text.substr(0, blank).rfind('(');
  if (open == std::string_view::npos) return blank;
  const auto close = text.find(')', open);
  if (close == std::string_view::npos || close - open > longest_bracket) return blank;
  return std::max(blank, std::min(text.find(' ', close), text.size()));
}

/// Control characters, and the marks that turn the writing direction of what follows.
bool is_unfit(char32_t code) {
  return code < 0x20 || (code >= 0x7F && code <= 0x9F) || (code >= 0x202A && code <= 0x202E) ||
         (code >= 0x2066 && code <= 0x2069) || code == 0x2028 || code == 0x2029;
}

}  // namespace

int display_width(std::string_view text) {
  int width = 0;
  while (!text.empty()) {
    const auto [code, bytes] = first_code(text);
    width += code_width(code);
    text.remove_prefix(bytes);
  }
  return width;
}

std::string clean_name(std::string_view text) {
  std::string clean;
  while (!text.empty()) {
    const auto [code, bytes] = first_code(text);
    clean += code == broken || is_unfit(code) ? replacement : text.substr(0, bytes);
    text.remove_prefix(bytes);
  }
  return clean;
}

std::string shortened(std::string_view text, int columns) {
  if (display_width(text) <= columns) return std::string(text);
  std::string kept;
  int width = 1;  // of the "…"
  while (!text.empty()) {
    const auto [code, bytes] = first_code(text);
    width += code_width(code);
    if (width > columns) break;
    kept += text.substr(0, bytes);
    text.remove_prefix(bytes);
  }
  return kept + "…";
}

std::string padded_left(std::string_view text, int columns) {
  const int blanks = std::max(0, columns - display_width(text));
  return std::string(static_cast<std::size_t>(blanks), ' ') + std::string(text);
}

std::string padded_right(std::string_view text, int columns) {
  const int blanks = std::max(0, columns - display_width(text));
  return std::string(text) + std::string(static_cast<std::size_t>(blanks), ' ');
}

std::vector<std::string> wrapped(std::string_view text, int columns) {
  std::vector<std::string> lines;
  std::string line;
  while (!text.empty()) {
    const auto blank = word_end(text);
    const auto word = text.substr(0, blank);
    if (!line.empty() && display_width(line) + 1 + display_width(word) > columns) {
      lines.push_back(std::move(line));
      line.clear();
    }
    if (!line.empty() && !word.empty()) line += ' ';
    line += word;
    text.remove_prefix(std::min(blank + 1, text.size()));
  }
  if (!line.empty()) lines.push_back(std::move(line));
  return lines;
}

}  // namespace pitwright::report
