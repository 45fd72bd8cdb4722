#pragma once

#include "mapped/lay_view.h"
#include "picture/lay_picture.h"

namespace pitwright::mapped {

/// How many settings one picture holds.
inline constexpr std::size_t most_settings = 4;

/// The lay as a picture: every setting (the first four), their differences (of two or three
/// settings all, of four those from the first), the measured numbers, what is usable and where the
/// next thermometer should go.
picture::LayPicture picture_of(const LayView& view);

/// The grate's ground with a field on it, no spots yet.
picture::HeatMap map_on(const lay::GrateLay& grate, const lay::Grid& value, const lay::Grid& sd);

}  // namespace pitwright::mapped
