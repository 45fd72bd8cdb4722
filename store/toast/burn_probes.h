#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "browning/toast_map.h"
#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::toast {

/// The burn whose thermometers stand for a photograph's probes.
struct BurnSource {
  std::filesystem::path path;  ///< burn.toml or its directory
  std::string setting;         ///< the setting that the bread was toasted at
  std::string grate;           ///< empty: the burn names one grate, or none
  double left_m = 0.0;         ///< from the left wall to the grate's left end
  double front_m = 0.0;        ///< from the door side to the grate's door end
};

/// The burn opened and called.
struct ToastBurn {
  Burn burn;
  call::Report report;
  int setting;        ///< of Report::settings
  std::string grate;  ///< the one meant
};

/// Fails: as open_burn and make_call; bad_input where the burn has no such setting or grate, or
///        several grates and none is told.
Result<ToastBurn> open_toast_burn(const BurnSource& source);

/// Every spot of the burn on that grate whose place is known: level plus run at the setting, with
/// the uncertainty of both (and so of the probe), placed on the grate.
/// Fails: bad_input where there is no such spot.
Result<std::vector<browning::ToastProbe>> probes_of(const ToastBurn& open,
                                                    const BurnSource& source);

/// Both. Fails as they do.
Result<std::vector<browning::ToastProbe>> probes_of_burn(const BurnSource& source);

}  // namespace pitwright::toast
