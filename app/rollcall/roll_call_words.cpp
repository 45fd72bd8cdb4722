#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/degrees.h"
#include "report/text_width.h"
#include "rollcall/roll_call_view.h"

namespace pitwright::rollcall {
namespace {

using report::clean_name;
using report::number_text;
using thermometer::Checked;
using thermometer::Reason;
using thermometer::Verdict;

double in_scale(double kelvins, Scale scale) {
  return TemperatureDelta::from_kelvins(kelvins).in(scale);
}

/// "−16°" or "+2.4°": tenths below ten degrees.
std::string amount_text(double kelvins, Scale scale) {
  const double size = in_scale(kelvins, scale);
  return number_text(size, std::abs(size) < 9.95 ? 1 : 0, true) + "°";
}

std::string place_text(thermometer::Place place) {
  switch (place) {
    case thermometer::Place::ice:
      return "in ice";
    case thermometer::Place::boil:
      return "at the boil";
    case thermometer::Place::cold:
      return "in the cold bundle";
    case thermometer::Place::hot:
      return "in the hot bundle";
  }
  std::unreachable();
}

std::string names_of(const RollCallView& view, Verdict verdict) {
  std::vector<std::string> names;
  for (const auto& probe : view.called.probes) {
    if (probe.verdict == verdict) names.push_back(clean_name(probe.name));
  }
  return fmt::format("{}", fmt::join(names, ", "));
}

/// "-1.5 F", to a tenth; ASCII, as a document wants it.
std::string written(double degrees, Scale scale) {
  const double rounded = std::round(degrees * 10.0) / 10.0;
  return fmt::format("\"{:g} {}\"", rounded == 0.0 ? 0.0 : rounded,
                     scale == Scale::celsius ? "C" : "F");
}

/// A size that must hold: rounded up to a tenth.
std::string written_limit(double degrees, Scale scale) {
  constexpr double dust = 1e-9;
  return written(std::ceil(degrees * 10.0 - dust) / 10.0, scale);
}

/// Whether one number says the whole correction on a page of tenths.
bool is_flat(const Correction& correction, Scale scale) {
  constexpr double visible = 0.05;
  const auto [low, high] = std::ranges::minmax(correction.points, {}, &CorrectionPoint::add_k);
  return in_scale(high.add_k - low.add_k, scale) < visible;
}

}  // namespace

std::string file_name(const RollCallView& view) {
  return clean_name(view.document.path.filename().string());
}

std::string date_text(const std::optional<std::chrono::year_month_day>& date) {
  if (!date) return "";
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date->year()),
                     static_cast<unsigned>(date->month()), static_cast<unsigned>(date->day()));
}

std::string why_text(const RollCallView& view, const Checked& probe) {
  const auto amount = amount_text(probe.amount_k, view.scale);
  const auto where = probe.where ? place_text(*probe.where) : "";
  switch (probe.reason) {
    case Reason::none:
      return "";
    case Reason::scatter:
      return fmt::format(
          "its readings {} scatter by {} (standard deviation): a loose plug or a "
          "failing cable?",
          where, amount.substr(1));
    case Reason::steep:
      return fmt::format(
          "its error grows by {} % of the temperature; no working sensor of its kind "
          "does that: wrong type set, or damaged",
          number_text(100.0 * probe.slope, 0, true));
    case Reason::far_off:
      return fmt::format("it would need {} where it is used; a failing cable drifts like that",
                         amount);
    case Reason::bundle:
      return fmt::format(
          "right in itself, yet {} against the others {}: look at its sheath, its "
          "stem and what it sees of the fire; keep it out of comparisons",
          amount, where);
    case Reason::no_reference:
      return "there is nothing to check it by: it was in no ice or boil, and in no bundle with "
             "another";
  }
  std::unreachable();
}

std::string sentence(const RollCallView& view) {
  const auto& probes = view.called.probes;
  const auto count = std::ssize(probes);
  const auto comparable = std::ranges::count(probes, true, &Checked::comparable);
  std::string text = fmt::format("{} of {} thermometer{} may be held against each other",
                                 comparable, count, count == 1 ? "" : "s");
  double worst = 0.0, own = 0.0;
  for (const auto& probe : probes) {
    if (!probe.comparable) continue;
    worst = std::max(worst, probe.uncertainty_k);
    own = std::max(own, probe.own_k);
  }
  if (comparable > 0) {
    text += fmt::format(": corrected, each is right within {}° at {:.0f}°, {}° of it its own",
                        number_text(in_scale(worst, view.scale), 1, false),
                        Temperature::from_celsius(view.called.conditions.used_at_c).in(view.scale),
                        number_text(in_scale(own, view.scale), 1, false));
  }
  text += ".";
  const std::pair<Verdict, const char*> others[] = {
      {Verdict::apart, "Keep apart"}, {Verdict::bin, "Bin"}, {Verdict::unread, "Not checked"}};
  for (const auto& [verdict, word] : others) {
    const auto names = names_of(view, verdict);
    if (!names.empty()) text += fmt::format(" {}: {}.", word, names);
  }
  return text;
}

std::vector<std::string> paste_lines(const RollCallView& view, const Checked& probe) {
  const auto& points = probe.correction.points;
  if (points.empty()) return {};
  const auto scale = view.scale;
  std::vector<std::string> lines;
  if (is_flat(probe.correction, scale)) {
    lines.push_back("correction = " + written(in_scale(probe.add_k, scale), scale));
    lines.push_back("uncertainty = " + written_limit(in_scale(probe.uncertainty_k, scale), scale));
  } else {
    lines.emplace_back("correction = [");
    for (const auto& point : points) {
      lines.push_back(
          fmt::format("  {{ at = {}, add = {}, uncertainty = {} }},",
                      written(Temperature::from_celsius(point.at_c).in(scale), scale),
                      written(in_scale(point.add_k, scale), scale),
                      written_limit(in_scale(point.uncertainty_k.value_or(0.0), scale), scale)));
    }
    lines.emplace_back("]");
  }
  const auto date = date_text(view.document.date);
  if (!date.empty()) lines.push_back("checked = " + date);
  return lines;
}

}  // namespace pitwright::rollcall
