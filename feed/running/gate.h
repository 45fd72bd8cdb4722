#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>

#include "feeds/feed_document.h"
#include "readings/clock_watch.h"
#include "readings/reading.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// What happens to every delivery on its way: channels get the names they have in the burn, and the
/// clocks of the sources are held against this computer's. Used by one thread.
class Gate {
 public:
  Gate(const FeedDocument& document, Troubles& troubles);

  void pass(Delivery& delivery);
  /// Looks at this computer's own clock; a remark where it was set.
  std::optional<Remark> look_at_host();

 private:
  bool name(Reading& reading, const std::string& source);
  void watch(Delivery& delivery);

  std::map<std::string, std::string, std::less<>> prefixes_;  ///< of sources
  std::map<std::string, std::string, std::less<>> names_;     ///< of channels, from what arrives
  std::set<std::string, std::less<>> wanted_;
  bool leave_unknown_;
  std::map<std::string, std::string, std::less<>> owners_;  ///< of channels: the first source
  std::map<std::string, ClockWatch, std::less<>> clocks_;   ///< of sources
  HostClockWatch host_;
  Troubles* troubles_;
};

}  // namespace pitwright::feed
