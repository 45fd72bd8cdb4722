#pragma once

#include <optional>
#include <string>
#include <vector>

#include "picture/page.h"
#include "report/call_view.h"

namespace pitwright::picture {

/// A stint on the strip; times [s] on the burn's clock.
struct StripStint {
  std::string setting;
  int setting_index = 0;
  double from_s = 0.0, to_s = 0.0;
  std::optional<double> counted_from_s, counted_to_s;
  call::StintState state = call::StintState::closed;
  std::optional<double> mean_c;  ///< of the level over what counts of it
};

struct StripEvent {
  double at_s = 0.0;
  std::optional<double> until_s;
  std::string what;
};

struct StripTick {
  double at_s;
  std::string text;
};

/// A burn from its first sample to its last: what was set when, which part of it counts, and how
/// hot the chamber was. Shapes: seconds, level_c and dial_c (or empty) alike; NaN where unknown.
struct StripPicture {
  std::string title, under;
  double from_s = 0.0, to_s = 0.0;
  std::vector<StripStint> stints;
  std::vector<StripEvent> events;
  std::vector<double> seconds, level_c, dial_c;
  std::vector<StripTick> clock;  ///< moments to print, enough for a wide page
  std::string clock_words;       ///< "time of day", "hours and minutes since the first sample"
  std::optional<double> soaked_at_s;
  std::string swing;  ///< "19° peak to trough, every 4 min 30 s"
  Scale unit = Scale::fahrenheit;
};

/// The strip of a burn as the call understood it.
StripPicture strip_of(const report::CallView& view);

Picture draw_strip(const StripPicture& strip, Page page, const std::string& id = "strip",
                   Head head = Head::told);

}  // namespace pitwright::picture
