#include "cli/picture_options.h"

#include <utility>

#include "picture/render.h"

namespace pitwright::cli {

void PictureOptions::declare(CLI::App& cmd, const std::string& what) {
  cmd.add_option("--svg", svg, what);
  cmd.add_option("--png", png, "the same as PNG");
  cmd.add_option("--pdf", pdf, "the same as PDF");
  cmd.add_flag("--phone", phone, "the picture as narrow as a phone");
}

Result<void> PictureOptions::write(
    const std::function<picture::Picture(picture::Page)>& draw) const {
  if (!any()) return {};
  const auto drawn = draw(phone ? picture::Page::narrow : picture::Page::wide);
  using picture::FileKind;
  const std::pair<const std::string*, FileKind> files[] = {
      {&svg, FileKind::svg}, {&png, FileKind::png}, {&pdf, FileKind::pdf}};
  for (const auto& [file, kind] : files) {
    if (file->empty()) continue;
    if (const auto written = picture::write_picture(drawn, *file, kind); !written) return written;
  }
  return {};
}

}  // namespace pitwright::cli
