#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.h"

namespace pitwright::feed {

/// One thermometer that Linux drives, and the file that shows what it reads.
struct Thermometer {
  enum class Kind {
    hwmon,         ///< tempN_input, millidegrees
    iio,           ///< in_temp_input, millidegrees
    iio_raw,       ///< (in_temp_raw + offset) x scale, millidegrees
    one_wire,      ///< temperature of w1_therm, millidegrees
    one_wire_text  ///< w1_slave: two lines, "YES" and "t=23062"
  };
  Kind kind = Kind::hwmon;
  std::string channel;
  std::filesystem::path file;
};

/// The thermometers under a root such as /sys: hwmon (class/hwmon/*/tempN_input), IIO
/// (bus/iio/devices/*/in_temp*), 1-Wire (bus/w1/devices/*). Names come from label or name files,
/// are unique, and stay the same as long as the same drivers are there. The folders may be missing.
/// Source of files and units: Linux kernel documentation, hwmon/sysfs-interface, ABI
/// testing/sysfs-bus-iio, w1/slaves/w1_therm.
std::vector<Thermometer> find_thermometers(const std::filesystem::path& root);

/// What it shows now [degC]. May take most of a second (1-Wire converts while it is read).
/// Fails: unavailable, in words that name the file.
Result<double> read_celsius(const Thermometer& thermometer);

}  // namespace pitwright::feed
