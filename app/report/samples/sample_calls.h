#pragma once

#include <string>
#include <vector>

#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::samples {

/// A burn and its call, made by hand for the tests of the pages: the numbers are our own
/// inventions, not output of the engine.
struct SampleCall {
  std::string name;
  Burn burn;
  call::Report report;
};

SampleCall tray_moved();  ///< two settings, controller's sensor on the left, lay clear, level open
SampleCall three_baffles();    ///< three settings: one is out, two are equally even
SampleCall damper_opened();    ///< lay no odds, level open
SampleCall still_heating();    ///< everything muddled
SampleCall one_position();     ///< a single setting, no dial, no clock, an uncounted setting
SampleCall fouled_sensor();    ///< the dial gap moved, the lay did not
SampleCall running_burn();     ///< live; names of many scripts; numbers missing
SampleCall nothing_counted();  ///< no estimate at all
SampleCall crowded_chamber();  ///< 64 spots, four settings with long names

std::vector<SampleCall> all_samples();

}  // namespace pitwright::samples
