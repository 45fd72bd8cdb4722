#include "picture/lettering.h"

#include <algorithm>

#include "picture/glyph_widths.h"
#include "report/text_width.h"

namespace pitwright::picture {
namespace {

/// The first sign of a text that is not empty, as bytes; a broken byte stands alone.
std::string_view first_sign(std::string_view text) {
  std::size_t length = 1;
  while (length < text.size() && (static_cast<unsigned char>(text[length]) & 0xC0U) == 0x80U) {
    ++length;
  }
  return text.substr(0, length);
}

/// Code point of a whole sign.
char32_t code_of(std::string_view sign) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(sign[i]); };
  switch (sign.size()) {
    case 1:
      return byte(0) < 0x80U ? byte(0) : U'\uFFFD';
    case 2:
      return (byte(0) & 0x1FU) << 6U | (byte(1) & 0x3FU);
    case 3:
      return (byte(0) & 0x0FU) << 12U | (byte(1) & 0x3FU) << 6U | (byte(2) & 0x3FU);
    default:
      return U'\uFFFD';
  }
}

/// [1/1000 em]
int advance(std::string_view sign, bool bold) {
  const auto code = code_of(sign);
  constexpr char32_t ascii = 0x20, ascii_end = 0x7F, latin = 0xA0, latin_end = 0x180;
  const auto& table = bold ? glyphs::bold : glyphs::regular;
  if (code >= ascii && code < ascii_end) return table[code - ascii];
  if (code >= latin && code < latin_end) return table[code - latin + (ascii_end - ascii)];
  const auto found = std::ranges::find(glyphs::others, static_cast<int>(code));
  if (found != glyphs::others.end()) {
    const auto index = static_cast<std::size_t>(found - glyphs::others.begin());
    return (bold ? glyphs::others_bold : glyphs::others_regular)[index];
  }
  return report::display_width(sign) == 0 ? 0 : 1000;
}

std::string_view anchor_name(Anchor anchor) {
  constexpr std::string_view names[] = {"start", "middle", "end"};
  return names[static_cast<int>(anchor)];
}

constexpr double line_height = 1.35;  // of the size

}  // namespace

double text_width(std::string_view text, const Lettering& lettering) {
  int sum = 0;
  while (!text.empty()) {
    const auto sign = first_sign(text);
    sum += advance(sign, lettering.bold);
    text.remove_prefix(sign.size());
  }
  return lettering.size * sum / 1000.0;
}

Box text_box(std::string_view text, Point at, const Lettering& lettering) {
  constexpr double ascent = 0.76, descent = 0.24;  // of the size, letters and figures
  const double width = text_width(text, lettering);
  const double shift =
      lettering.anchor == Anchor::start ? 0.0 : (lettering.anchor == Anchor::middle ? 0.5 : 1.0);
  return {at.x - shift * width, at.y - ascent * lettering.size, width,
          (ascent + descent) * lettering.size};
}

std::vector<std::string> text_lines(std::string_view text, double width,
                                    const Lettering& lettering) {
  std::vector<std::string> lines;
  std::string line;
  while (!text.empty()) {
    const auto blank = std::min(text.find(' '), text.size());
    const auto word = text.substr(0, blank);
    text.remove_prefix(std::min(blank + 1, text.size()));
    if (word.empty()) continue;
    const auto longer = line.empty() ? std::string(word) : line + ' ' + std::string(word);
    if (!line.empty() && text_width(longer, lettering) > width) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

std::string cut_to(std::string_view text, double width, const Lettering& lettering) {
  if (text_width(text, lettering) <= width) return std::string(text);
  std::string kept;
  while (!text.empty()) {
    const auto sign = first_sign(text);
    if (text_width(kept + std::string(sign) + "…", lettering) > width) break;
    kept += sign;
    text.remove_prefix(sign.size());
  }
  while (!kept.empty() && kept.back() == ' ') kept.pop_back();
  return kept + "…";
}

void put_text(Svg& svg, std::string_view text, Point at, const Lettering& lettering,
              const Attributes& more) {
  Attributes attributes = {{"x", px(at.x)},
                           {"y", px(at.y)},
                           {"font-size", px(lettering.size)},
                           {"fill", std::string(lettering.color)}};
  if (lettering.bold) attributes.emplace_back("font-weight", "bold");
  if (lettering.anchor != Anchor::start) {
    attributes.emplace_back("text-anchor", anchor_name(lettering.anchor));
  }
  attributes.insert(attributes.end(), more.begin(), more.end());
  svg.leaf("text", attributes, text);
}

double put_lines(Svg& svg, std::string_view text, Point at, double width,
                 const Lettering& lettering) {
  for (const auto& line : text_lines(text, width, lettering)) {
    put_text(svg, cut_to(line, width, lettering), at, lettering);
    at.y += line_height * lettering.size;
  }
  return at.y;
}

}  // namespace pitwright::picture
