#include "resources/asking.h"

#include <algorithm>
#include <cmath>

#include "http/stamps.h"
#include "units/parse.h"

namespace pitwright::resources {

using http::parse_stamp;

Result<Standing> asked_burn(const Asked& asked) {
  return asked.desk.worked.burn(asked.names.at("burn"));
}

Result<Scale> asked_scale(const Asked& asked, Scale own) {
  const auto unit = wire::query_value(asked.request, "unit");
  if (!unit) return own;
  if (*unit == "F") return Scale::fahrenheit;
  if (*unit == "C") return Scale::celsius;
  return fail(ErrorKind::bad_input, "unit is F or C, not '{}'", *unit);
}

Result<std::optional<db::Stamp>> asked_stamp(const Asked& asked, std::string_view name) {
  const auto text = wire::query_value(asked.request, name);
  if (!text) return std::nullopt;
  const auto stamp = parse_stamp(*text);
  if (!stamp) return fail(ErrorKind::bad_input, "{}: {}", name, stamp.error().what);
  return *stamp;
}

Result<std::optional<double>> asked_number(const Asked& asked, std::string_view name) {
  const auto text = wire::query_value(asked.request, name);
  if (!text) return std::nullopt;
  const auto value = parse_number(*text);
  if (!value) return fail(ErrorKind::bad_input, "{}: expected a number, not '{}'", name, *text);
  return *value;
}

Result<CallAsked> asked_call(const Asked& asked, const Burn& burn) {
  CallAsked call;
  const auto at = asked_stamp(asked, "at");
  if (!at) return std::unexpected(at.error());
  if (*at) {
    if (!burn.clock.zero)
      return fail(ErrorKind::bad_input, "at: this burn has no zero on the world's clock");
    call.at_s = std::chrono::duration<double>(**at - *burn.clock.zero).count();
    if (*call.at_s < burn.first_s())
      return fail(ErrorKind::bad_input, "at: lies before the burn began");
  }
  if (const auto spot = wire::query_value(asked.request, "without_spot")) {
    if (std::ranges::find(burn.probes, *spot, &Probe::spot) == burn.probes.end())
      return fail(ErrorKind::bad_input, "without_spot: this burn has no spot '{}'", *spot);
    call.without_spot = *spot;
  }
  const auto stint = asked_number(asked, "without_stint");
  if (!stint) return std::unexpected(stint.error());
  if (*stint) {
    if (**stint < 0 || **stint >= static_cast<double>(burn.stints.size()) ||
        **stint != std::floor(**stint))
      return fail(ErrorKind::bad_input, "without_stint: the stints are 0 to {}",
                  std::ssize(burn.stints) - 1);
    call.without_stint = static_cast<int>(**stint);
  }
  return call;
}

}  // namespace pitwright::resources
