#pragma once

#include <string>

#include "toasted/toast_view.h"

namespace pitwright::toasted {

/// The joint map for people, or why there is none though a burn is named; empty without a burn.
std::string joined_text(const ToastView& view);

}  // namespace pitwright::toasted
