#include "readings/clock_watch.h"

#include <cstdlib>

#include <fmt/chrono.h>
#include <fmt/format.h>

namespace pitwright::feed {

using std::chrono::microseconds;

std::optional<ClockStep> ClockWatch::behind(Moment stamp, Moment arrival) {
  if (behind_ > 0 && stamp > last_behind_ - least && stamp <= last_behind_) {
    return std::nullopt;  // another channel of the same moment
  }
  if (behind_ > 0 && stamp <= last_behind_) behind_ = 0;  // back again: the run begins here
  if (behind_ == 0) first_behind_ = stamp;
  last_behind_ = stamp;
  if (++behind_ < confirm) return std::nullopt;
  const ClockStep step{ClockStep::Kind::back, first_behind_, *newest_ - first_behind_};
  newest_ = stamp;  // this is the clock from now on
  behind_ = 0;
  if (told_back_ && arrival - *told_back_ < told_again_after) return std::nullopt;
  told_back_ = arrival;
  return step;
}

std::optional<ClockStep> ClockWatch::see(Moment stamp, Moment arrival) {
  if (newest_ && stamp <= *newest_ - least) return behind(stamp, arrival);
  behind_ = 0;
  if (!newest_ || stamp > *newest_) newest_ = stamp;
  const auto ahead = stamp - arrival;
  const bool was_ahead = ahead_;
  ahead_ = ahead > least;
  if (!ahead_ || was_ahead) return std::nullopt;
  return ClockStep{ClockStep::Kind::ahead, stamp, ahead};
}

std::optional<microseconds> HostClockWatch::look(Moment wall,
                                                 std::chrono::steady_clock::time_point steady) {
  const auto apart =
      wall.time_since_epoch() - std::chrono::duration_cast<microseconds>(steady.time_since_epoch());
  const auto before = apart_;
  if (before && std::chrono::abs(apart - *before) < least) return std::nullopt;
  apart_ = apart;
  if (!before) return std::nullopt;
  return apart - *before;
}

std::string span_text(microseconds span) {
  const auto s = std::chrono::abs(std::chrono::round<std::chrono::seconds>(span)).count();
  return fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

std::string utc_text(Moment at) {
  const auto whole = std::chrono::floor<std::chrono::seconds>(at);
  const auto part = (at - whole).count() / 1000;
  const std::chrono::year_month_day day(std::chrono::floor<std::chrono::days>(whole));
  const auto s = (whole - std::chrono::floor<std::chrono::days>(whole)).count();
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}{}Z", static_cast<int>(day.year()),
                     static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()), s / 3600,
                     s / 60 % 60, s % 60, part > 0 ? fmt::format(".{:03}", part) : "");
}

std::string step_sentence(const std::string& source, const ClockStep& step) {
  if (step.kind == ClockStep::Kind::back) {
    return fmt::format(
        "{}: stamps went back {} to {} and stay there: its clock was set back, or older readings "
        "came late; all are kept under their own stamps",
        source, span_text(step.by), utc_text(step.at));
  }
  return fmt::format(
      "{}: stamps are {} ahead of this computer's clock, at {}; one of them is wrong", source,
      span_text(step.by), utc_text(step.at));
}

}  // namespace pitwright::feed
