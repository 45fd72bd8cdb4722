#include <cmath>

#include <fmt/format.h>

#include "burns/clocks.h"
#include "report/degrees.h"
#include "report/moments.h"
#include "report/text_table.h"
#include "report/text_width.h"
#include "report/trouble_words.h"
#include "rollcall/burn_view.h"
#include "rollcall/page.h"

namespace pitwright::rollcall {
namespace {

using report::clean_name;
using report::number_text;

std::string correction_text(const call::ThermometerSeen& probe, Scale scale) {
  const auto in = [scale](double k) { return TemperatureDelta::from_kelvins(k).in(scale); };
  const auto add = probe.add_k == 0.0 ? std::string("0") : number_text(in(probe.add_k), 1, true);
  if (!probe.uncertainty_k) return probe.add_k == 0.0 ? "not checked" : add + ", not told how sure";
  return fmt::format("{} ±{}", add, number_text(in(*probe.uncertainty_k), 1, false));
}

std::string seconds_text(const std::optional<double>& seconds) {
  constexpr double dust_s = 0.5;
  if (!seconds) return "–";
  return std::abs(*seconds) < dust_s ? "0 s" : number_text(*seconds, 0, true) + " s";
}

std::string table_of(const BurnView& view) {
  std::vector<std::string> labels;
  report::Column spot{"spot", {}}, usual{"usual", {}}, share{"swing", {}}, late{"late", {}},
      lag{"lag", {}}, correction{"correction", {}};
  for (const auto& probe : view.seen.probes) {
    labels.push_back("  " + report::shortened(clean_name(probe.channel), 16));
    spot.cells.push_back(probe.spot.empty() ? std::string(name_of(probe.role))
                                            : report::shortened(clean_name(probe.spot), 16));
    usual.cells.push_back(
        probe.usual_c
            ? number_text(Temperature::from_celsius(*probe.usual_c).in(view.scale), 0, false) + "°"
            : "–");
    share.cells.push_back(probe.share ? fmt::format("{:.0f} %", 100.0 * *probe.share) : "–");
    late.cells.push_back(seconds_text(probe.late_s));
    lag.cells.push_back(seconds_text(probe.lag_s));
    correction.cells.push_back(correction_text(probe, view.scale));
  }
  return report::table_text(report::scale_mark(view.scale), labels,
                            {spot, usual, share, late, lag, correction}, page_width);
}

std::string clock_text(const understood::LogView& log) {
  if (!log.clock) return "";
  std::string text = log.clock->offset_s == 0.0
                         ? std::string("taken as it is")
                         : burns::offset_text(log.clock->offset_s) + " added";
  if (log.clock->uncertainty_s > 0.0)
    text += fmt::format(", give or take {:.0f} s", log.clock->uncertainty_s);
  if (!log.clock->how.empty()) text += fmt::format(" ({})", clean_name(log.clock->how));
  return clean_name(log.file) + ": " + text;
}

}  // namespace

std::string burn_text(const BurnView& view) {
  const auto& burn = view.open.burn;
  std::string text = clean_name(burn.title) + "\n";
  const auto day = report::day_text(burn);
  if (!day.empty()) text += day + "\n";
  text += "\n" + indented(sentence(view)) + "\n" + table_of(view) + "\n";
  text += indented(
      view.seen.period_s
          ? fmt::format(
                "Swing: how much of the common swing of {} each shows; late: how long after "
                "the usual probe; lag: the time constant, beyond the usual probe's, that "
                "would explain it. A thick sheath is damped and late; metal contact more so.",
                report::duration_text(*view.seen.period_s))
          : "No steady swing: shares and delays are told from irregular ups and downs, if at all.");
  if (!view.seen.troubles.empty()) text += "\nWhat the log shows\n";
  for (const auto& trouble : view.seen.troubles) {
    auto told = report::trouble_text(trouble, burn, view.scale);
    if (trouble.at_s) told = report::moment_text(burn, *trouble.at_s) + ": " + told;
    text += bullet(told);
  }
  std::string clocks;
  for (const auto& log : view.logs) {
    const auto line = clock_text(log);
    if (!line.empty()) clocks += bullet(line);
  }
  if (!clocks.empty()) text += "\nClocks\n" + clocks;
  return text;
}

}  // namespace pitwright::rollcall
