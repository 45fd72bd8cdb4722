#include "call/explain.h"

#include <fmt/format.h>

namespace pitwright::call {
namespace {

double minutes(double seconds) {
  return seconds / 60.0;
}

std::string stint_line(const Evidence& evidence, const StintCall& stint, const Tables& tables) {
  const auto& name = evidence.windows.settings[static_cast<std::size_t>(stint.setting)];
  int blocks = 0;
  double good = 0.0;
  for (const auto& block : tables.blocks) {
    if (block.stint != stint.index) continue;
    ++blocks;
    good += block.good * (block.last - block.first) * evidence.panel.step_s;
  }
  if (!stint.counted_from_s || blocks == 0)
    return fmt::format("stint {} ({}): nothing counts{}{}", stint.index + 1, name,
                       stint.why.empty() ? "" : ", ", stint.why);
  return fmt::format(
      "stint {} ({}): {:.1f} to {:.1f} min counted of {:.1f} to {:.1f}; {} block{}, {:.1f} min good"
      "; {:.1f} min left out",
      stint.index + 1, name, minutes(*stint.counted_from_s), minutes(*stint.counted_to_s),
      minutes(stint.from_s), minutes(stint.to_s), blocks, blocks == 1 ? "" : "s", minutes(good),
      minutes(stint.excluded_s));
}

/// Blocks, stretches and typical errors behind a quantity's changes.
std::string quantity_line(const Evidence& evidence, const std::string& name,
                          const Measured& measured) {
  if (measured.effects() == nullptr) return fmt::format("{}: no block has it", name);
  const auto& blocks = evidence.now.blocks;
  int stretches = 0, last = -1;
  for (const int b : measured.blocks()) {
    const int stretch = blocks[static_cast<std::size_t>(b)].stretch;
    stretches += stretch != last ? 1 : 0;
    last = stretch;
  }
  const auto p = measured.effects()->layout().settings();
  Eigen::VectorXd contrast = Eigen::VectorXd::Unit(p, 0);
  if (p > 1) contrast(1) = -1.0;
  const auto scales = measured.posterior()->typical_scales(contrast, 1).front();
  const auto shown = [&](double kelvins) {
    return TemperatureDelta::from_kelvins(kelvins).in(evidence.scale);
  };
  const char* unit = evidence.scale == Scale::celsius ? "C" : "F";
  return fmt::format(
      "{}: {} of {} blocks in {} stretches; errors as they look: drift {:.1f} {} per root hour, "
      "block {:.1f} {}, re-setting {:.1f} {}",
      name, measured.blocks().size(), blocks.size(), stretches, shown(scales.drift), unit,
      shown(scales.noise), unit, shown(scales.resetting), unit);
}

std::string level_line(const Evidence& evidence) {
  std::string names;
  for (const int i : evidence.moments.level_spots) {
    if (!names.empty()) names += ", ";
    names += evidence.panel.spots[static_cast<std::size_t>(i)].spot;
  }
  return fmt::format("level: mean of {} of {} spots, those read in every counted stint: {}",
                     evidence.moments.level_spots.size(), evidence.panel.spots.size(), names);
}

std::string settling_line(const Windows& windows) {
  return fmt::format("settling: lag {:.1f} min ({:.1f} to {:.1f}){}; blocks of {:.1f} min, {}",
                     minutes(windows.lag_s), minutes(windows.lag_low_s),
                     minutes(windows.lag_high_s), windows.lag_borrowed ? ", a common value" : "",
                     minutes(standard_block_s(windows.swing)),
                     windows.swing.period_s ? "whole swings" : "no steady swing");
}

}  // namespace

std::vector<std::string> explain(const Evidence& evidence, const Report& report) {
  std::vector<std::string> lines;
  const auto& now = evidence.now;
  for (const auto& stint : evidence.windows.stints)
    lines.push_back(stint_line(evidence, stint, now));
  lines.push_back(settling_line(evidence.windows));
  lines.push_back(level_line(evidence));
  if (now.empty()) return lines;
  lines.push_back(quantity_line(evidence, "level", now.level));
  for (std::size_t i = 0; i < report.spots.size(); ++i)
    lines.push_back(quantity_line(evidence, "runs of " + report.spots[i].spot, now.runs[i]));
  for (std::size_t i = 0; i < report.tilts.size(); ++i)
    lines.push_back(quantity_line(evidence, "tilt " + std::string(name_of(report.tilts[i].axis)),
                                  now.tilts[i]));
  if (now.dial_gap) lines.push_back(quantity_line(evidence, "dial gap", *now.dial_gap));
  lines.push_back(
      fmt::format("words: as known when stint {} closed; joint over each table and over all looks",
                  evidence.closed_stints));
  return lines;
}

}  // namespace pitwright::call
