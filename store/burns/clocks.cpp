#include "burns/clocks.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>

#include <fmt/format.h>

#include "base/expects.h"
#include "burns/channels.h"
#include "burns/clock_checks.h"
#include "burns/clock_ties.h"

namespace pitwright::burns {

std::string offset_text(double seconds) {
  const auto ms = std::llround(std::abs(seconds) * 1000.0);
  const auto whole = ms / 1000;
  std::string text = seconds < 0.0 ? "-" : "+";
  if (whole >= 3600) text += fmt::format("{} h ", whole / 3600);
  if (whole / 60 % 60 != 0) text += fmt::format("{} min ", whole / 60 % 60);
  if (whole < 60 && ms % 1000 != 0) {
    text += fmt::format("{:.1f} s ", static_cast<double>(ms) / 1000.0);
  } else if (whole % 60 != 0 || whole < 60) {
    text += fmt::format("{} s ", whole % 60);
  }
  text.pop_back();
  return text;
}

Result<Clocks> put_clocks_together(const documents::BurnDocument& document,
                                   std::span<const logs::Log> logs) {
  expects(document.logs.size() == logs.size());
  auto ties = tie_clocks(document, logs);
  if (!ties) return std::unexpected(ties.error());
  if (auto checked = check_clocks(document, logs, *ties); !checked) {
    return std::unexpected(checked.error());
  }
  Clocks clocks;
  compare_untold_clocks(document, logs, *ties, clocks.assumed);
  auto zero = std::numeric_limits<std::int64_t>::max();
  for (std::size_t l = 0; l < logs.size(); ++l) {
    const auto range = stamp_range(logs[l]);
    if (range) zero = std::min(zero, (*ties)[l].common_ms(range->first_ms));
  }
  if (zero == std::numeric_limits<std::int64_t>::max()) {
    return fail(ErrorKind::bad_input, "{}: none of the logs has a reading", document.path.string());
  }
  clocks.clock.timezone = document.timezone;
  if (ties->front().world) clocks.clock.zero = Instant(std::chrono::milliseconds(zero));
  for (const auto& tie : *ties) {
    clocks.logs.push_back({zero - tie.shift_ms, tie.drift_s_per_h, tie.drift_at_ms,
                           static_cast<double>(tie.offset_ms) / 1000.0, tie.uncertainty_s,
                           tie.how});
    clocks.uncertainty_s = std::max(clocks.uncertainty_s, tie.uncertainty_s);
  }
  return clocks;
}

}  // namespace pitwright::burns
