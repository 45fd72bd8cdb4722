#pragma once

#include "call/report.h"
#include "picture/svg.h"

namespace pitwright::picture {

/// The sign of a word, told by its shape: a full dot is clear, a small square no odds, a ring too
/// close, a dashed ring not yet, a cross muddled. Orange where `value` is above zero, blue below,
/// dark at zero.
void put_word_mark(Svg& svg, call::Word word, Point at, double value);

}  // namespace pitwright::picture
