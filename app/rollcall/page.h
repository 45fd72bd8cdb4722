#pragma once

#include <string>
#include <string_view>

#include <fmt/format.h>

#include "report/text_width.h"

namespace pitwright::rollcall {

inline constexpr int page_width = 80;

/// "Label      text", the text broken at blanks and kept in its column.
inline std::string entry(std::string_view label, std::string_view text) {
  constexpr int margin = 11;
  std::string out;
  for (const auto& line : report::wrapped(text, page_width - margin))
    out += report::padded_right(out.empty() ? label : "", margin) + line + "\n";
  return out;
}

inline std::string indented(std::string_view text) {
  std::string out;
  for (const auto& line : report::wrapped(text, page_width - 4)) out += "  " + line + "\n";
  return out;
}

inline std::string bullet(std::string_view text) {
  std::string out;
  for (const auto& line : report::wrapped(text, page_width - 4))
    out += (out.empty() ? "  - " : "    ") + line + "\n";
  return out;
}

}  // namespace pitwright::rollcall
