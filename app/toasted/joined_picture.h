#pragma once

#include "picture/lay_picture.h"
#include "toasted/toast_view.h"

namespace pitwright::toasted {

/// The joint map with what thermometers measured, and beside it what toast shows beyond the air.
/// Pre: view.toast.joined.
picture::LayPicture joined_picture(const ToastView& view);

}  // namespace pitwright::toasted
