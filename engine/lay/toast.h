#pragma once

#include <vector>

#include "base/result.h"
#include "lay/lay.h"

namespace pitwright::lay {

// A second, rougher instrument: many readings of one grate at one setting on a scale of their own
// (the browning of bread), read together with the few thermometers:
//   reading = a + b run(x) + d(x) + noise
// run is the heat of the air, as in the lay; d a smooth field of what the instrument sees besides
// (radiant heat); a and b are unknown. Thermometers anchor a and b; the readings fill the map.

struct ToastReading {
  double x_m, y_m;
  double value;
  double variance;  ///< of the value, in its own unit squared
};

struct ToastOptions {
  bool ranked = false;  ///< the scale is known to rise only: values are put on normal scores first
};

struct ToastLay {
  std::string setting, grate;
  Estimate offset, slope;  ///< a and b, in the readings' unit and unit / K
  std::vector<double> x_m, y_m;
  Grid value_k, sd_k;            ///< runs of the air, both instruments together
  Grid radiant_k, radiant_sd_k;  ///< d / b: what the toast shows beyond the air, in kelvins
  Grid disagree;                 ///< chance that d is more than the lay's `matters` off zero
  double agreement = 0.0;        ///< correlation of readings and the air's run at their places
};

/// Co-kriging of thermometers and toast.
/// Fails: bad_input where there are fewer than 4 readings, the setting or grate is unknown, or the
///        readings do not vary.
Result<ToastLay> lay_with_toast(const Lay& lay, int setting, int grate,
                                const std::vector<ToastReading>& readings, double matters_k,
                                const ToastOptions& options = {});

}  // namespace pitwright::lay
