#pragma once

#include <functional>
#include <string>

#include <CLI/CLI.hpp>

#include "base/result.h"
#include "picture/page.h"
#include "picture/svg.h"

namespace pitwright::cli {

/// Where a command writes its picture, and how wide: --svg, --png, --pdf, --phone.
struct PictureOptions {
  std::string svg, png, pdf;
  bool phone = false;

  /// `what`: the help of --svg.
  void declare(CLI::App& cmd, const std::string& what);
  bool any() const { return !svg.empty() || !png.empty() || !pdf.empty(); }
  /// Draws, where a file was asked for, and writes each in the form its option names.
  /// Fails: as picture::write_picture does.
  Result<void> write(const std::function<picture::Picture(picture::Page)>& draw) const;
};

}  // namespace pitwright::cli
