#pragma once

#include <string>

#include "report/call_view.h"

namespace pitwright::report {

/// Width of the page [columns].
inline constexpr int page_width = 98;

/// Heading of a setting's column: its name, or "(2)" where a name is too long for a column.
std::string setting_head(const CallView& view, int setting);

/// Level, tilts, spread and dial gap, then how every spot runs: per setting, and from setting to
/// setting with the word. In a crowd of spots under three or more settings the changes leave out
/// those with nothing but "no odds" and "muddled" and count them, unless `every_spot`.
std::string call_table(const CallView& view, bool every_spot);

/// Changes of every spot's own reading, whole chamber included, with the channels at the spot.
std::string reading_table(const CallView& view);

/// The wider ranges that the words are read from.
std::string word_range_table(const CallView& view);

}  // namespace pitwright::report
