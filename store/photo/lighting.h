#pragma once

#include <vector>

#include "browning/light.h"
#include "photo/rectified.h"

namespace pitwright::photo {

/// How bright the table looks through the grate, block by block: three quarters up among the pixels
/// of a block that lie clear of bread, cards and shadows, so that bars do not count.
/// bread: 8 bits, not 0 on anything that may be bread; side: of a slice [pixels].
std::vector<browning::LightSample> table_samples(const Rectified& grate, const cv::Mat& bread,
                                                 double side);

}  // namespace pitwright::photo
