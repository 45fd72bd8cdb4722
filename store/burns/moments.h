#pragma once

#include <optional>

#include "base/result.h"
#include "burns/clocks.h"
#include "documents/burn_document.h"

namespace pitwright::burns {

/// A document's times on the burn's clock, whose last sample is at `last_s`.
struct Moments {
  const documents::BurnDocument& document;
  const Clocks& clocks;
  double last_s = 0.0;

  /// Fails: bad_input where the zone cannot resolve it, or where it is a date but the burn has no
  /// zero on the world's clock.
  Result<double> of(const documents::WrittenTime& time) const;

  /// The same for a time that may be missing.
  Result<std::optional<double>> of(const std::optional<documents::WrittenTime>& time) const;

  /// For messages: "2026-05-02T13:05:00-05:00" or "0:35:00".
  std::string text(double seconds) const;
};

}  // namespace pitwright::burns
