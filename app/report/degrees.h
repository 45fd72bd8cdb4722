#pragma once

#include <optional>
#include <string>
#include <vector>

#include "call/report.h"
#include "units/temperature.h"

namespace pitwright::report {

/// A number with its range in the scale of the page, ready to print. Readings and differences are
/// converted apart: 32 is added to the first only.
struct Shown {
  double value = 0.0, low = 0.0, high = 0.0;
  int decimals = 0;   ///< 0; 1 where the range is so narrow that whole degrees would hide it
  bool sign = false;  ///< print a plus before a value above zero
};

/// A chamber temperature [degC] on the page's scale.
Shown shown_reading(const call::Estimate& celsius, Scale scale);

/// A difference of temperatures [K] on the page's scale.
Shown shown_difference(const call::Estimate& kelvins, Scale scale);

/// The same change told the other way round: 26 to the left is -26 to the right.
Shown mirrored(const Shown& shown);

/// "°F" or "°C".
std::string scale_mark(Scale scale);

/// "268", "−9", "+14" where `sign` is asked for; never "−0" or "+0".
std::string number_text(double value, int decimals, bool sign);

/// "14°", without a sign; "under 1°" where it would round to nothing. Whole degrees, rounded to
/// the nearest.
std::string size_text(double kelvins, Scale scale);

/// A limit that must hold: like size_text, rounded up, at least 1°.
std::string limit_text(double kelvins, Scale scale);

/// "+14°" or "−9°".
std::string offset_text(double kelvins, Scale scale);

/// "12 to 16".
std::string range_text(const Shown& shown);

/// "14° (12 to 16)" of a change whose sign goes into the words around it: a fall of 14 has the
/// range turned round with it.
std::string spoken_change(const call::Estimate& kelvins, Scale scale);

/// "268° (262 to 274)" of a reading.
std::string spoken_reading(const call::Estimate& celsius, Scale scale);

/// "+9 (5 to 13)" per entry, the values right-aligned among themselves; `missing` where empty.
std::vector<std::string> aligned_ranges(const std::vector<std::optional<Shown>>& cells,
                                        const std::string& missing);

}  // namespace pitwright::report
