#include "payload/stamp_reader.h"

#include <cmath>

#include "logs/fields.h"
#include "logs/number.h"
#include "logs/stamps.h"

namespace pitwright::feed {
namespace {

constexpr std::int64_t day_ms = 86'400'000;
constexpr double year_2000_s = 946'684'800.0;
constexpr double year_2199_s = 7'226'582'400.0;  // its first day; the store holds 1900 to 2199

std::optional<Moment> believed(std::int64_t us) {
  const double s = static_cast<double>(us) / 1e6;
  if (s < year_2000_s || s > year_2199_s) return std::nullopt;
  return Moment(std::chrono::microseconds(us));
}

}  // namespace

Result<StampReader> StampReader::make(const std::string& timezone) {
  const auto zone = logs::Zone::named(timezone);
  if (!zone) return std::unexpected(zone.error());
  return StampReader(*zone);
}

std::optional<Moment> StampReader::number(double value) {
  // The units' ranges do not meet: 2000..2199 is 9.5e8..7.2e9 s, 9.5e11..7.2e12 ms and so on.
  for (const double unit_us : {1e6, 1e3, 1.0, 1e-3}) {
    const double s = value * unit_us / 1e6;
    if (s >= year_2000_s && s <= year_2199_s) return believed(std::llround(value * unit_us));
  }
  return std::nullopt;
}

std::optional<Moment> StampReader::text(std::string_view text) {
  text = logs::trimmed(text);
  if (const auto value = logs::parse_decimal(text, '.')) return number(*value);
  logs::Stamp stamp;
  if (!logs::parse_stamp(text, logs::DateOrder::year_first, stamp) || !stamp.has_date ||
      !stamp.has_clock || stamp.order_matters) {
    return std::nullopt;
  }
  const auto wall = stamp.days * day_ms + stamp.clock_ms;
  if (stamp.has_offset) return believed((wall - stamp.offset_min * 60'000LL) * 1000);
  const auto ms = zone_.utc(wall);
  if (!ms) return std::nullopt;
  return believed(*ms * 1000);
}

}  // namespace pitwright::feed
