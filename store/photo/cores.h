#pragma once

#include "browning/light.h"
#include "photo/segments.h"

namespace pitwright::photo {

/// The light over the grate, as a factor to what the first card gets.
struct EvenLight {
  browning::LightField field;
  double at_card = 0.0;  ///< ln of the field at the first card

  double factor(double x_share, double y_share) const;
};

/// One slice measured: the middle color of its core under even light. The core keeps clear of the
/// outer fifth of the slice; what shines in it is left out.
SeenSlice measure(const Rectified& grate, const Segment& segment, double side,
                  const EvenLight& light);

}  // namespace pitwright::photo
