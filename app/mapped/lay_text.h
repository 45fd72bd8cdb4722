#pragma once

#include <string>

#include "mapped/lay_view.h"

namespace pitwright::mapped {

/// Width of the page [columns].
inline constexpr int lay_page_width = 80;

/// The lay as a page for a terminal without color: the sentence, a map of numbers per setting and
/// grate, shares and extremes, the difference of two settings, where the next thermometer goes,
/// what was asked, published figures.
std::string lay_text(const LayView& view);

}  // namespace pitwright::mapped
