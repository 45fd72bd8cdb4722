#pragma once

#include <string>

#include "toasted/toast_view.h"

namespace pitwright::toasted {

// All of a toast that was joined. Pre: view.toast.joined.

/// "about 4 in from the left wall, 2 in from the door side: +14° (9 to 19)".
std::string joined_place_text(const ToastView& view, const lay::ToastPlace& at);

/// "known to ±6° where thermometers alone tell ±17°".
std::string narrower_text(const ToastView& view);

/// Where radiant heat and air disagree the surest, how much, over how much of the grate.
std::string disagreement_text(const ToastView& view);

/// The joint map in a breath.
std::string joined_sentence(const ToastView& view);

}  // namespace pitwright::toasted
