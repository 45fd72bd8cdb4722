#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "browning/toast_map.h"
#include "photo/photo.h"
#include "toast/burn_probes.h"
#include "units/temperature.h"

namespace pitwright::toast {

/// More anchors would make the sets that may stand apart too many.
inline constexpr std::size_t most_probes = 24;

/// toast.toml as a plain value: a photograph of toast and what its people told of it.
struct ToastDocument {
  std::filesystem::path path;
  std::string title;
  Scale scale = Scale::fahrenheit;  ///< of the page
  std::filesystem::path photo;      ///< found from the document's own place
  std::optional<int> slices;        ///< how many were laid out
  photo::Scene scene;
  browning::Limits limits;
  std::vector<browning::ToastProbe> probes;
  std::optional<BurnSource> burn;  ///< its spots join the probes when the toast is opened
};

/// Reads toast.toml. Fails: not_found; bad_input with file, line, column and the nearest known
/// name.
Result<ToastDocument> read_toast(const std::filesystem::path& path);

/// The same from text; the photograph is looked for beside `path`.
Result<ToastDocument> parse_toast(std::string_view text, const std::filesystem::path& path);

}  // namespace pitwright::toast
