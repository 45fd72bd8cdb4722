#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "toasted/toast_view.h"

namespace pitwright::toasted {

/// "shines", "burnt": why a slice is left out, in one word; empty for one that counts.
std::string_view flaw_word(browning::Flaw flaw);

/// The same as the JSON document writes it: "glare", "off color"; empty for one that counts.
std::string_view flaw_name(browning::Flaw flaw);

/// The toast in a breath.
std::string toast_sentence(const ToastView& view);

/// Which slices were left out and why, a sentence a reason; slices laid out and not found.
std::vector<std::string> left_out_sentences(const ToastView& view);

/// Where toast and the air disagree, a sentence a probe.
std::vector<std::string> apart_sentences(const ToastView& view);

/// What the page rests on: light, cards, probes.
std::string light_text(const ToastView& view);
std::string card_text(const ToastView& view);
std::string anchor_text(const ToastView& view);

/// "between the slices", "cards" or "none" where the light was read.
std::string_view light_name(photo::LightFrom from);

}  // namespace pitwright::toasted
