#pragma once

#include <functional>
#include <string>

#include "base/result.h"
#include "documents/rollcall_document.h"
#include "documents/table_reader.h"

namespace pitwright::documents {

/// How a thermometer's written readings become degC.
struct Sensor {
  SensorSpec spec;
  std::string unit;                               ///< "mV", "ohm"; empty: degrees
  double usual_step = 1.0;                        ///< of a meter in that unit, at the coarsest
  bool is_broken = false;                         ///< its mistake is told; nothing can be read
  std::function<Result<double>(double)> celsius;  ///< of a number in that unit
  std::function<double(double, double)> step_k;   ///< of a step in that unit, at a reading [degC]
};

/// Reads `type` and what goes with it (`cold_junction`, `ohm_at_25`, `beta`, `[[probe.curve]]`)
/// from a
/// [[probe]]. Mistakes go to `keys` and `reading`; the sensor then reads degrees.
Sensor sensor_of(Reading& reading, TableReader& keys);

}  // namespace pitwright::documents
