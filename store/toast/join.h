#pragma once

#include <string>

#include "base/result.h"
#include "browning/toast_map.h"
#include "call/together.h"
#include "lay/lay.h"
#include "lay/toast.h"
#include "lay/toast_summary.h"
#include "photo/photo.h"
#include "pit/pit.h"

namespace pitwright::toast {

/// Where in the pit the photographed grate lies, and when.
struct Ground {
  std::string setting, grate;
  double left_m = 0.0, front_m = 0.0;  ///< from left wall and door side to the grate's own
  double matters_k;                    ///< what matters to the burn
};

/// Toast and the thermometers of a burn on one map. Places are the pit's.
struct Joined {
  lay::Lay lay;  ///< of the thermometers alone
  int setting, grate;
  lay::ToastLay map;
  lay::ToastSummary summary;
  double matters_k;
  bool by_order = false;  ///< no thermometer sat at a slice: the order of the shades was read

  const lay::SettingLay& told() const { return lay.settings[static_cast<std::size_t>(setting)]; }
  const lay::GrateLay& alone() const { return told().grates[static_cast<std::size_t>(grate)]; }
};

/// Source: docs/methods/toast.md. Fails as make_lay and lay_with_toast; bad_input where the setting
/// was not counted.
Result<Joined> join(const Pit& pit, const call::Together& together, const Ground& ground,
                    const photo::Seen& seen, const browning::ToastMap& map);

}  // namespace pitwright::toast
