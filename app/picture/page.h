#pragma once

#include <string>
#include <string_view>

#include "picture/colors.h"
#include "picture/lettering.h"
#include "picture/svg.h"

namespace pitwright::picture {

/// For whom a picture is laid out.
enum class Page {
  wide,    ///< a laptop or a picture on its own, 1200 px
  narrow,  ///< a phone held upright, 390 px
  column   ///< the text column of a page that is printed, 720 px
};

/// Whether a picture tells its own title, facts and sentence, or the page around it does.
enum class Head { told, left_out };

/// Sizes that all pictures of a page share [px].
struct Sizes {
  double width, margin, title, head, text, small;

  double inner() const { return width - 2 * margin; }
};

Sizes sizes_of(Page page);

/// Title, what and when under it, and the sentence; the y below them.
double put_titles(Svg& svg, const Sizes& sizes, std::string_view title, std::string_view under,
                  std::string_view sentence);

/// The chip that names a setting (dark) or a change (light), its top left at `at`; its height.
double put_chip(Svg& svg, std::string_view text, Point at, double width, double letters, bool dark);

/// The page on white paper. `title` and `description` are for those who cannot see it.
Picture finished_page(const Svg& body, const Sizes& sizes, double height, const std::string& id,
                      std::string_view title, std::string_view description);

}  // namespace pitwright::picture
