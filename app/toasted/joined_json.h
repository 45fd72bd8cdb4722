#pragma once

#include <nlohmann/json_fwd.hpp>

#include "toasted/toast_view.h"

namespace pitwright::toasted {

/// The value of `joined`; null where nothing was joined.
nlohmann::ordered_json joined_json(const ToastView& view);

}  // namespace pitwright::toasted
