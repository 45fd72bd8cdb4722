#include "report/call_words.h"

#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/expects.h"
#include "report/moments.h"

namespace pitwright::report {

using call::StintState;
using call::Word;

std::string word_cell(const call::Change& change) {
  const std::string word(name_of(change.word));
  switch (change.word) {
    case Word::clear:
    case Word::no_odds:
      return word;
    case Word::too_close:
    case Word::not_yet:
      return change.needs_stints ? fmt::format("{}, {} more", word, *change.needs_stints)
                                 : word + ", over 12";
    case Word::muddled:
      break;
  }
  if (change.because.empty()) return word;
  std::vector<int> numbers;
  for (const auto index : change.because) numbers.push_back(index + 1);
  return fmt::format("{} [{}]", word, fmt::join(numbers, ", "));
}

std::string needs_text(const call::Change& change) {
  if (!change.needs_stints) return "even 12 more stints would probably not settle it";
  return fmt::format("{} more stint{} would probably settle it", *change.needs_stints,
                     *change.needs_stints == 1 ? "" : "s");
}

std::string live_state_text(const CallView& view) {
  expects(view.report.live.has_value());
  const auto& live = *view.report.live;
  switch (live.state) {
    case StintState::heating:
      return live.soaked ? "Soaked. Start the first stint." : "Heating, not soaked yet.";
    case StintState::settling:
      return "Settling: not counting yet.";
    case StintState::counting:
      return fmt::format("Counting, {:.0f} of {:.0f} min.", std::floor(live.counting_s / 60.0),
                         std::ceil(live.needed_s / 60.0));
    case StintState::closed:
      return "Closed: this stint has counted enough.";
    case StintState::paused:
      return "Lid: pausing.";
    case StintState::spoiled:
      return "Spoiled: this stint does not count.";
  }
  std::unreachable();
}

bool has_counted_enough(const call::Live& live) {
  return live.state == StintState::closed ||
         (live.state == StintState::counting && live.counting_s >= live.needed_s);
}

std::string live_next_text(const CallView& view) {
  expects(view.report.live.has_value());
  const auto& live = *view.report.live;
  if (live.state == StintState::heating) {
    return live.soaked ? "start the first stint" : "leave it; let it soak";
  }
  const bool done = has_counted_enough(live);
  const std::string hold = live.state == StintState::paused    ? "keep the lid shut"
                           : live.state == StintState::spoiled ? "start this stint again"
                                                               : "leave it";
  if (!live.change_to) {
    // With one setting there is nothing to compare yet.
    if (view.report.settings.size() == 1)
      return done ? "this setting has counted enough; change to another one, or stop here"
                  : hold + "; then change to another setting";
    return done ? "nothing left to ask; stop here" : hold + "; no further change is needed";
  }
  const auto to = spoken_setting(view, *live.change_to);
  if (done) return "change to " + to + " now";
  if (live.change_at_s) {
    return fmt::format("{}; change to {} at {}", hold, to,
                       moment_text(view.burn, *live.change_at_s));
  }
  return fmt::format("{}; then change to {}", hold, to);
}

}  // namespace pitwright::report
