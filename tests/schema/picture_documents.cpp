#include <cstdio>
#include <filesystem>

#include <fmt/core.h>

#include "picture/changes_picture.h"
#include "picture/render.h"
#include "picture/strip_picture.h"
#include "picture/test_lays.h"
#include "samples/sample_calls.h"

// Writes every picture of the samples, both pages, into a folder as SVG: for tests of the documents
// and for eyes. A second argument "png" writes PNG files beside them, "grey" those without color.
namespace {

using namespace pitwright;

picture::Picture without_color(picture::Picture drawn) {
  const auto start = drawn.svg.find("  <rect");
  drawn.svg.insert(start,
                   "<filter id=\"grey\"><feColorMatrix type=\"saturate\" values=\"0\"/></filter>"
                   "<g filter=\"url(#grey)\">");
  drawn.svg.insert(drawn.svg.rfind("</svg>"), "</g>");
  return drawn;
}

bool write(const picture::Picture& drawn, const std::filesystem::path& stem, bool png, bool grey) {
  for (const auto* ending : {".svg", ".png"}) {
    if (std::string_view(ending) == ".png" && !png) continue;
    const auto written =
        picture::write_picture(grey ? without_color(drawn) : drawn, stem.string() + ending);
    if (written) continue;
    fmt::print(stderr, "{}\n", written.error().what);
    return false;
  }
  return true;
}

}  // namespace

int main(int count, char** words) {
  if (count < 2) return 2;
  const std::filesystem::path folder = words[1];
  const bool grey = count > 2 && std::string_view(words[2]) == "grey", png = count > 2;
  for (const auto& [name, lay] : picture::test::all_sample_lays()) {
    const auto wide = picture::draw_lay(lay, picture::Page::wide);
    const auto narrow = picture::draw_lay(lay, picture::Page::narrow);
    if (!write(wide, folder / ("lay_" + name + "_wide"), png, grey)) return 1;
    if (!write(narrow, folder / ("lay_" + name + "_narrow"), png, grey)) return 1;
  }
  for (const auto& sample : samples::all_samples()) {
    const report::CallView view{sample.report, sample.burn, Scale::fahrenheit};
    const auto wide = picture::draw_changes(view, picture::Page::wide);
    const auto narrow = picture::draw_changes(view, picture::Page::narrow);
    if (!write(wide, folder / ("changes_" + sample.name + "_wide"), png, grey)) return 1;
    if (!write(narrow, folder / ("changes_" + sample.name + "_narrow"), png, grey)) return 1;
    const auto strip = picture::strip_of(view);
    if (!write(picture::draw_strip(strip, picture::Page::wide),
               folder / ("strip_" + sample.name + "_wide"), png, grey))
      return 1;
    if (!write(picture::draw_strip(strip, picture::Page::narrow),
               folder / ("strip_" + sample.name + "_narrow"), png, grey))
      return 1;
  }
  return 0;
}
