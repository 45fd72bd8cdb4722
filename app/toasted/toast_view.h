#pragma once

#include <string>

#include "toast/toast.h"

namespace pitwright::toasted {

/// What a page about toast is made from.
struct ToastView {
  const toast::Toast& toast;
  Scale scale;
};

/// The map of the slices for people.
std::string toast_text(const ToastView& view);

/// The same as one JSON document (docs/reference/toast.schema.json).
std::string toast_json(const ToastView& view);

}  // namespace pitwright::toasted
