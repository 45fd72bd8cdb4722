#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "browning/toast_map.h"
#include "photo/photo.h"
#include "toast/join.h"
#include "toast/toast_document.h"

namespace pitwright::toast {

/// A photograph of toast read and called.
struct Toast {
  ToastDocument document;
  photo::Seen seen;
  browning::ToastMap map;        ///< slices side by side with seen.slices
  std::optional<Joined> joined;  ///< with the thermometers of the burn that the document names
  std::string not_joined;        ///< why not, though a burn is named
};

/// Reads the document's photograph (and the burn it names) and maps it. Fails like
/// photo::read_photo and probes_of_burn.
Result<Toast> open_toast(ToastDocument document);

}  // namespace pitwright::toast
