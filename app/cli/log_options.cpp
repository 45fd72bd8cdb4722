#include "cli/log_options.h"

#include "documents/nearest.h"
#include "documents/zones.h"

namespace pitwright::cli {

void LogOptions::declare(CLI::App& cmd) {
  cmd.add_option("--unit", unit, "F or C, where the logs do not say");
  cmd.add_option("--timezone", timezone, "for times without an offset, such as America/Chicago");
  cmd.add_option("--date", date, "day-first or month-first, where dates may be read two ways");
  cmd.add_option("--decimal", decimal, "the decimal mark: . or ,");
}

Result<logs::Hints> LogOptions::hints() const {
  logs::Hints hints;
  if (!unit.empty() && unit != "F" && unit != "C" && unit != "K") {
    return fail(ErrorKind::bad_input, "--unit takes F or C, not '{}'", unit);
  }
  if (!unit.empty()) hints.unit = unit;
  if (!documents::is_known_zone(timezone)) {
    return fail(ErrorKind::bad_input, "--timezone: unknown time zone '{}'{}", timezone,
                documents::suggestion(timezone, documents::zone_names()));
  }
  hints.timezone = timezone;
  if (date == "day-first") {
    hints.date = logs::DateOrder::day_first;
  } else if (date == "month-first") {
    hints.date = logs::DateOrder::month_first;
  } else if (!date.empty()) {
    return fail(ErrorKind::bad_input, "--date takes day-first or month-first, not '{}'", date);
  }
  if (!decimal.empty() && decimal != "." && decimal != ",") {
    return fail(ErrorKind::bad_input, "--decimal takes . or , and not '{}'", decimal);
  }
  if (!decimal.empty()) hints.decimal = decimal.front();
  return hints;
}

}  // namespace pitwright::cli
