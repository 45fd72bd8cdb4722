#include "burns/moments.h"

#include <variant>

#include "documents/time_text.h"
#include "documents/zones.h"

namespace pitwright::burns {

Result<double> Moments::of(const documents::WrittenTime& time) const {
  if (const auto* since = std::get_if<Seconds>(&time.of)) return since->count();
  if (!clocks.clock.zero) {
    return fail(ErrorKind::bad_input,
                "{}: the logs count time from their own start, so a date means nothing here; write "
                "an offset such as \"0:35\", or the logger's start as 'zero' under [[log]]",
                document.at(time.place));
  }
  auto instant =
      std::get_if<Instant>(&time.of) != nullptr
          ? Result<Instant>(std::get<Instant>(time.of))
          : documents::instant_of(std::get<documents::LocalTime>(time.of), document.timezone);
  if (!instant) {
    return fail(ErrorKind::bad_input, "{}: {}", document.at(time.place), instant.error().what);
  }
  return static_cast<double>((*instant - *clocks.clock.zero).count()) / 1000.0;
}

Result<std::optional<double>> Moments::of(const std::optional<documents::WrittenTime>& time) const {
  if (!time) return std::optional<double>{};
  const auto moment = of(*time);
  if (!moment) return std::unexpected(moment.error());
  return std::optional(*moment);
}

std::string Moments::text(double seconds) const {
  return documents::time_text(clocks.clock, seconds);
}

}  // namespace pitwright::burns
