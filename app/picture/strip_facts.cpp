#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "call/blocks.h"
#include "picture/call_titles.h"
#include "picture/strip_picture.h"
#include "report/degrees.h"
#include "report/moments.h"
#include "report/text_width.h"
#include "series/moments.h"

namespace pitwright::picture {
namespace {

std::string what_of(const Event& event) {
  if (event.kind == EventKind::note || event.kind == EventKind::moved) {
    constexpr int longest = 24;
    const auto text = report::shortened(report::clean_name(event.text), longest);
    if (!text.empty()) return text;
  }
  return std::string(name_of(event.kind));
}

/// Level over the level spots, as the call takes it; NaN where one of them is missing.
std::vector<double> level_of(const call::Panel& panel, const call::Moments& moments) {
  std::vector<double> level;
  std::vector<double> here(moments.level_spots.size());
  for (int j = 0; j < panel.n; ++j) {
    for (std::size_t k = 0; k < here.size(); ++k) {
      const auto& spot = panel.spots[static_cast<std::size_t>(moments.level_spots[k])];
      here[k] = spot.celsius[static_cast<std::size_t>(j)];
    }
    const bool whole = std::ranges::all_of(here, [](double c) { return std::isfinite(c); });
    level.push_back(whole ? series::mean(here) : NAN);
  }
  return level;
}

/// Mean of the level over the moments of a stint that count.
std::optional<double> counted_mean(const StripPicture& strip, const call::Moments& moments,
                                   const StripStint& stint) {
  if (!stint.counted_from_s || !stint.counted_to_s) return {};
  std::vector<double> counted;
  for (std::size_t j = 0; j < strip.seconds.size(); ++j) {
    const bool within =
        strip.seconds[j] >= *stint.counted_from_s && strip.seconds[j] <= *stint.counted_to_s;
    if (within && moments.good[j] != 0) counted.push_back(strip.level_c[j]);
  }
  const double mean = series::mean(counted);
  return std::isfinite(mean) ? std::optional(mean) : std::nullopt;
}

/// Curve and means, from the logs themselves.
void add_readings(StripPicture& strip, const report::CallView& view) {
  const auto panel = call::make_panel(view.burn);
  if (panel.n == 0 || panel.spots.empty()) return;
  const auto windows = call::find_windows(view.burn, panel, strip.to_s);
  const auto moments = call::find_moments(panel, windows);
  const auto level = level_of(panel, moments);
  for (int j = 0; j < panel.n; ++j) {
    const double s = panel.start_s + (j + 0.5) * panel.step_s;
    if (s > strip.to_s) break;
    strip.seconds.push_back(s);
    strip.level_c.push_back(level[static_cast<std::size_t>(j)]);
    if (!panel.dial.empty()) strip.dial_c.push_back(panel.dial[static_cast<std::size_t>(j)]);
  }
  for (auto& stint : strip.stints) stint.mean_c = counted_mean(strip, moments, stint);
}

/// Seconds from the burn's zero back to a full day on its wall clock; 0 without a clock.
double since_midnight(const Burn& burn) {
  if (!burn.clock.zero) return 0.0;
  auto text = report::moment_text(burn, 0.0);
  text = text.substr(text.find_last_of(' ') + 1);
  const auto colon = text.find(':');
  if (colon == std::string::npos) return 0.0;
  return 3600.0 * std::stod(text.substr(0, colon)) + 60.0 * std::stod(text.substr(colon + 1));
}

/// Round moments of the clock, ten or so.
std::vector<StripTick> clock_ticks(const report::CallView& view, double from_s, double to_s) {
  constexpr double minute = 60.0;
  constexpr double most = 12.0;
  double step = minute;
  for (const double minutes :
       {1., 2., 5., 10., 15., 30., 60., 120., 180., 360., 720., 1440., 2880.}) {
    step = minutes * minute;
    if ((to_s - from_s) / step <= most) break;
  }
  const double offset = since_midnight(view.burn);
  std::vector<StripTick> all;
  for (double k = std::ceil((from_s + offset) / step); k * step - offset <= to_s; ++k) {
    const double at = k * step - offset;
    const auto text = report::moment_text(view.burn, at);
    all.push_back({at, text.substr(text.find_last_of(' ') + 1)});
  }
  return all;
}

std::string swing_words(const report::CallView& view) {
  const auto& swing = view.report.swing;
  if (!(swing.size_k > 0.0)) return "";
  const auto size = report::size_text(swing.size_k, view.scale);
  if (!swing.period_s) return size + " peak to trough, no steady cycle";
  return fmt::format("{} peak to trough, every {}", size, report::duration_text(*swing.period_s));
}

}  // namespace

StripPicture strip_of(const report::CallView& view) {
  StripPicture strip;
  strip.title = "How it was tested";
  const auto title = burn_title(view);
  strip.under = title + (title.empty() ? "" : " · ") + burn_facts(view);
  strip.unit = view.scale;
  strip.from_s = view.burn.first_s();
  const auto& live = view.report.live;
  strip.to_s =
      std::min(view.burn.last_s(), live ? live->as_known_at_s.value_or(HUGE_VAL) : HUGE_VAL);
  for (const auto& stint : view.report.stints) {
    strip.stints.push_back({report::setting_name(view, stint.setting),
                            stint.setting,
                            stint.from_s,
                            stint.to_s,
                            stint.counted_from_s,
                            stint.counted_to_s,
                            stint.state,
                            {}});
    strip.from_s = std::min(strip.from_s, stint.from_s);
    if (!live) strip.to_s = std::max(strip.to_s, stint.to_s);
  }
  for (const auto& event : view.burn.events) {
    if (event.at_s <= strip.to_s)
      strip.events.push_back({event.at_s, event.until_s, what_of(event)});
  }
  strip.soaked_at_s = view.report.soaked_at_s;
  strip.swing = swing_words(view);
  strip.clock_words =
      view.burn.clock.zero ? "time of day" : "hours and minutes since the first sample";
  strip.clock = clock_ticks(view, strip.from_s, strip.to_s);
  add_readings(strip, view);
  return strip;
}

}  // namespace pitwright::picture
