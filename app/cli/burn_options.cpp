#include "cli/burn_options.h"

#include <filesystem>

#include "units/parse.h"

namespace pitwright::cli {

Result<Scale> scale_of(const std::string& asked, Scale own) {
  if (asked.empty()) return own;
  const auto scale = parse_scale(asked);
  if (!scale) return fail(ErrorKind::bad_input, "--unit takes F or C, not '{}'", asked);
  return *scale;
}

void name_burn(burns::OpenBurn& open) {
  if (!open.burn.title.empty()) return;
  std::error_code unreadable;
  const auto document = std::filesystem::absolute(open.document, unreadable);
  open.burn.title = document.parent_path().filename().string();
}

}  // namespace pitwright::cli
