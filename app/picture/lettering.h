#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "picture/svg.h"

namespace pitwright::picture {

enum class Anchor { start, middle, end };

struct Lettering {
  double size = 13.0;  ///< [px]
  bool bold = false;
  Anchor anchor = Anchor::start;
  std::string_view color = "#1f2328";
};

/// The smallest lettering of a page [px].
inline constexpr double smallest_lettering = 11.0;

/// The smallest of a column page, which screens show an eighth larger or more and paper finer [px].
inline constexpr double smallest_in_column = 9.5;

/// How wide a text is [px] in DejaVu Sans; the sans-serif of other machines is narrower. Signs the
/// table does not know are taken as one em, marks that stand over others as nothing.
double text_width(std::string_view text, const Lettering& lettering);

/// The box of a text whose base line starts, is centered or ends at `at`.
Box text_box(std::string_view text, Point at, const Lettering& lettering);

/// Lines no wider than `width` [px], broken at blanks; a longer word stands alone.
std::vector<std::string> text_lines(std::string_view text, double width,
                                    const Lettering& lettering);

/// The text, or its beginning and "…", no wider than `width` [px].
std::string cut_to(std::string_view text, double width, const Lettering& lettering);

void put_text(Svg& svg, std::string_view text, Point at, const Lettering& lettering,
              const Attributes& more = {});

/// Writes the text in lines from `at` down; the base line of the next line below it.
double put_lines(Svg& svg, std::string_view text, Point at, double width,
                 const Lettering& lettering);

}  // namespace pitwright::picture
