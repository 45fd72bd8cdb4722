#pragma once

#include <chrono>
#include <optional>
#include <string>

#include "readings/reading.h"

namespace pitwright::feed {

/// What was seen of a source's clock.
struct ClockStep {
  enum class Kind {
    back,   ///< stamps went back, and stay back, while this computer's clock went on
    ahead,  ///< stamps are ahead of this computer's clock
  };
  Kind kind = Kind::back;
  Moment at;                     ///< the first stamp after the step
  std::chrono::microseconds by;  ///< its size, never negative
};

/// Holds the stamps of one source against this computer's clock.
///
/// A single old reading is nothing: it came late. A step back is told once `confirm` later and
/// later stamps in a row lie more than `least` behind the newest; that is a clock that was set
/// back, or a heap of older readings that came late: the stamps alone cannot tell which. Steps
/// under `least` are delays of a network, or loggers that differ.
class ClockWatch {
 public:
  static constexpr std::chrono::seconds least{90};
  static constexpr int confirm = 3;
  static constexpr std::chrono::minutes told_again_after{10};

  /// Looks at one stamp of the source, in order of arrival. Gives a step where one is told now.
  std::optional<ClockStep> see(Moment stamp, Moment arrival);

 private:
  std::optional<ClockStep> behind(Moment stamp, Moment arrival);

  std::optional<Moment> newest_;  ///< stamp of the clock as it is believed to run
  Moment first_behind_, last_behind_;
  int behind_ = 0;  ///< stamps in a row that lie behind
  std::optional<Moment> told_back_;
  bool ahead_ = false;
};

/// Holds this computer's wall clock against its steady one.
class HostClockWatch {
 public:
  static constexpr std::chrono::seconds least{2};
  /// How far the wall clock was set since the last look: positive is forward.
  std::optional<std::chrono::microseconds> look(Moment wall,
                                                std::chrono::steady_clock::time_point steady);

 private:
  std::optional<std::chrono::microseconds> apart_;
};

/// "1:00:00" (h:mm:ss), for people; without a sign.
std::string span_text(std::chrono::microseconds span);

/// "2026-05-02T17:05:00Z".
std::string utc_text(Moment at);

/// One sentence for the terminal and for the burn.
std::string step_sentence(const std::string& source, const ClockStep& step);

}  // namespace pitwright::feed
