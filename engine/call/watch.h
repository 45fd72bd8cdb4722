#pragma once

#include <optional>

#include "call/call.h"

namespace pitwright::call {

/// Looks at a running burn, as often as one likes. Words change only when a stint closes: at every
/// look they are those of the burn as it was known at its last close, to the bit. That verdict is
/// kept from look to look, and made again where what was known then has been edited since; a look
/// between closes costs one solve of the model, without the trust checks' second looks.
class Watch {
 public:
  /// The call as known at `now_s`; fills Report::live. Like make_call with as_known_at_s.
  /// Fails: like make_call.
  Result<Report> look(const Burn& burn, double now_s, bool needs_stints = true);

 private:
  struct Close {
    Burn known;     ///< at the close
    Report report;  ///< without needs_stints
  };
  /// The verdict at the last close before now; null before the first one.
  const Report* at_close(const Burn& burn, double now_s);
  std::optional<Close> last_;
};

}  // namespace pitwright::call
