#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "documents/sensor_reader.h"
#include "documents/table_reader.h"

namespace pitwright::documents {

/// One written reading; NaN for `nan`, which says that a round was missed.
struct Written {
  double number;  ///< in the unit it is written in
  double celsius;
};

/// The readings of one place: one or a list. Mistakes go to `reading` and `keys`.
std::vector<Written> readings_of(Reading& reading, TableReader& keys, std::string_view key,
                                 const Sensor& sensor);

/// Names of thermometers by the step their displays were found to have.
using Steps = std::map<double, std::vector<std::string>>;

/// The step of a thermometer's display [K]: as told in `resolution`, else worked out from all that
/// it showed, and noted in `steps`.
double resolution_of(TableReader& keys, const Sensor& sensor, Scale unit,
                     const std::vector<Written>& all, const std::string& name, Steps& steps);

}  // namespace pitwright::documents
