#pragma once

#include <string_view>

namespace pitwright::sheet {

/// Styles of the sheet, for screens from 320 px up, for paper, and for people who ask for less
/// motion or more contrast.
std::string_view page_style();

/// The script of the sheet: it swaps texts that were computed when the sheet was made and offers
/// the readings as a file. It computes nothing.
std::string_view page_script();

}  // namespace pitwright::sheet
