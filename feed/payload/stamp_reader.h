#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"
#include "logs/zone.h"
#include "readings/reading.h"

namespace pitwright::feed {

/// Reads the stamps of one source: ISO 8601 and its usual relatives, or a number since
/// 1970-01-01T00:00Z whose size tells its unit (s, ms, us, ns).
class StampReader {
 public:
  /// `timezone` is for stamps without an offset; empty: UTC. Fails: bad_input for an unknown one.
  static Result<StampReader> make(const std::string& timezone);

  /// nullopt for what is no moment between 2000 and 2199: a clock that was never set counts from
  /// 1970, and a counter of seconds since power-up is no time.
  std::optional<Moment> text(std::string_view text);
  static std::optional<Moment> number(double value);

 private:
  explicit StampReader(logs::Zone zone) : zone_(zone) {}
  logs::Zone zone_;
};

}  // namespace pitwright::feed
