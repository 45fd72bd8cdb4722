#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "burns/clocks.h"
#include "report/text_width.h"
#include "understood/understood.h"

namespace pitwright::understood {
namespace {

using report::clean_name;
using report::padded_left;
using report::padded_right;

constexpr std::size_t shown_skips = 10;

std::string counted(std::int64_t n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

/// "label    text", the text broken at blanks and kept in its column.
std::string labeled(std::string_view label, std::string_view text, int width) {
  constexpr int margin = 13;
  std::string out;
  for (const auto& line : report::wrapped(text, std::max(20, width - margin))) {
    out += padded_right(out.empty() ? fmt::format("  {}", label) : "", margin) + line + "\n";
  }
  return out;
}

std::string interval_text(double seconds) {
  if (!(seconds > 0.0)) return "one row only";
  return fmt::format("every {:g} s (median)", std::round(seconds * 1000.0) / 1000.0);
}

std::string rows_text(const LogView& log) {
  auto text = counted(log.rows, "row", "rows");
  if (log.rows_skipped > 0) text += fmt::format(", {} of no use", log.rows_skipped);
  if (log.duplicates > 0) {
    text += fmt::format(", {} given twice (the later counts)",
                        counted(log.duplicates, "time", "times"));
  }
  if (log.out_of_order > 0)
    text += fmt::format(", {} out of order (put in order)", log.out_of_order);
  return text;
}

std::string clock_text(const burns::LogClock& clock) {
  std::string text = clock.offset_s == 0.0
                         ? std::string("nothing added")
                         : fmt::format("{} added", burns::offset_text(clock.offset_s));
  if (clock.drift_s_per_h != 0.0) {
    text += fmt::format(", {:+.1f} s/h of drift taken out", clock.drift_s_per_h);
  }
  if (clock.uncertainty_s > 0.0)
    text += fmt::format(", give or take {:.0f} s", clock.uncertainty_s);
  if (!clock.how.empty()) text += fmt::format(" ({})", clean_name(clock.how));
  return text;
}

std::string unit_text(const ChannelView& channel) {
  switch (channel.unit_source) {
    case UnitSource::file:
      return fmt::format("{} by the file", channel.unit);
    case UnitSource::told:
      return fmt::format("{} as told", channel.unit);
    case UnitSource::burn:
      return fmt::format("{} taken from the burn", channel.unit);
    case UnitSource::nobody:
      break;
  }
  return "no unit told";
}

std::string channels_text(const LogView& log, int width) {
  int name = 0;
  int unit = 0;
  int readings = 0;
  for (const auto& channel : log.channels) {
    name = std::max(name, report::display_width(clean_name(channel.name)));
    unit = std::max(unit, report::display_width(unit_text(channel)));
    readings = std::max(readings, static_cast<int>(fmt::formatted_size("{}", channel.readings)));
  }
  name = std::min(name, std::max(20, width - 52));
  std::string out;
  for (const auto& channel : log.channels) {
    out += padded_right(out.empty() ? "  channels" : "", 13);
    out += padded_right(report::shortened(clean_name(channel.name), name), name) + "  ";
    out += padded_right(unit_text(channel), unit) + "  ";
    out += padded_left(fmt::format("{}", channel.readings), readings) + " readings";
    if (channel.missing > 0) out += fmt::format(", {} missing", channel.missing);
    out += "\n";
  }
  return out;
}

std::string skips_text(const LogView& log, int width) {
  std::string out;
  for (std::size_t i = 0; i < std::min(log.skipped.size(), shown_skips); ++i) {
    const auto& skip = log.skipped[i];
    const auto column = skip.column > 0 ? fmt::format(", column {}", skip.column) : "";
    out += labeled(i == 0 ? "skipped" : "",
                   fmt::format("line {}{}: {}", skip.line, column, clean_name(skip.reason)), width);
  }
  const auto more =
      log.skipped_total - static_cast<std::int64_t>(std::min(log.skipped.size(), shown_skips));
  if (more > 0) out += labeled("", fmt::format("... and {} more", more), width);
  return out;
}

std::string log_text(const LogView& log, int width) {
  auto out = clean_name(log.file) + "\n";
  for (const auto& line : log.understood) {
    const auto colon = line.find(": ");
    const bool short_label = colon != line.npos && colon <= 10;
    out += labeled(short_label ? line.substr(0, colon) : "",
                   clean_name(short_label ? line.substr(colon + 2) : line), width);
  }
  out += labeled("rows", rows_text(log), width);
  out += labeled("interval", interval_text(log.interval_s), width);
  out += labeled("from", log.first, width);
  out += labeled("to", log.last, width);
  if (log.clock) out += labeled("clock", clock_text(*log.clock), width);
  return out + channels_text(log, width) + skips_text(log, width) + "\n";
}

}  // namespace

std::string text_of(const View& view, int width) {
  std::string out;
  if (view.unit) {
    out += fmt::format("{}  (in {}, {})\n\n", clean_name(view.burn),
                       *view.unit == Scale::celsius ? "C" : "F",
                       view.timezone.empty() ? "UTC" : view.timezone);
  }
  for (const auto& log : view.logs) out += log_text(log, width);
  if (!view.assumed.empty()) out += "Assumed\n";
  for (const auto& line : view.assumed) {
    bool first = true;
    for (const auto& part : report::wrapped(clean_name(line), std::max(20, width - 4))) {
      out += (first ? "  - " : "    ") + part + "\n";
      first = false;
    }
  }
  return out;
}

}  // namespace pitwright::understood
