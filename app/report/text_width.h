#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pitwright::report {

/// Columns a text takes on a terminal: 2 for East Asian wide characters and emoji, 0 for combining
/// marks and joiners, 1 for all else. Broken UTF-8 counts 1 a byte.
/// Source: Unicode 14, EastAsianWidth.txt (classes W and F) and general category Mn/Me/Cf,
/// in merged ranges; unassigned code points between two wide blocks count as wide.
int display_width(std::string_view text);

/// A name from a file made fit for a terminal and a JSON document: control characters and broken
/// UTF-8 become U+FFFD, so that no log can move a cursor or color a screen.
std::string clean_name(std::string_view text);

/// At most `columns` wide; the end is replaced by "…" where it does not fit.
std::string shortened(std::string_view text, int columns);

/// Blanks before or after, up to `columns`.
std::string padded_left(std::string_view text, int columns);
std::string padded_right(std::string_view text, int columns);

/// Lines of at most `columns`, broken at blanks; a word that is wider stands alone on its line.
std::vector<std::string> wrapped(std::string_view text, int columns);

}  // namespace pitwright::report
