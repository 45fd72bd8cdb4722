#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"
#include "db/store.h"

namespace pitwright::keeping {

/// A burn directory ready to be kept.
struct Packed {
  db::ToKeep burn;
  std::vector<std::string> left_out;  ///< files beside the document that it does not name
};

/// Reads a burn's document, its pit and its logs byte for byte, and its readings for drawing. What
/// lies beside the document's folder (pit = "../pits/barrel.toml") is kept under the folder above
/// both. `name` empty: the name of the burn's folder.
/// Fails like burns::open_burn; also bad_input for a file that is named by an absolute path.
Result<Packed> pack(const std::filesystem::path& path, const std::string& name = "");

}  // namespace pitwright::keeping
