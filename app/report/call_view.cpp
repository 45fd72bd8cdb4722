#include "report/call_view.h"

#include <algorithm>

#include "base/expects.h"
#include "report/text_width.h"

namespace pitwright::report {
namespace {

void append(std::vector<const call::Change*>& all, const call::Quantity& quantity) {
  for (const auto& change : quantity.changes) all.push_back(&change);
}

}  // namespace

std::string setting_name(const CallView& view, int setting) {
  expects(setting >= 0 && setting < std::ssize(view.report.settings));
  return clean_name(view.report.settings[static_cast<std::size_t>(setting)]);
}

std::string spoken_setting(const CallView& view, int setting) {
  const auto name = setting_name(view, setting);
  return name.find(',') == std::string::npos ? name : "\"" + name + "\"";
}

const call::Estimate* estimate_at(const call::Quantity& quantity, int setting) {
  const auto found =
      std::ranges::find(quantity.by_setting, setting, &call::SettingEstimate::setting);
  if (found == quantity.by_setting.end() || !found->estimate) return nullptr;
  return &*found->estimate;
}

const call::Change* change_between(const call::Quantity& quantity, int from, int to) {
  const auto found = std::ranges::find_if(quantity.changes, [&](const call::Change& change) {
    return change.from == from && change.to == to;
  });
  return found == quantity.changes.end() ? nullptr : &*found;
}

std::vector<DialMeaning> dial_meanings(const call::Report& report) {
  std::vector<DialMeaning> meanings;
  if (!report.dial_gap) return meanings;
  for (int setting = 0; setting < std::ssize(report.settings); ++setting) {
    const bool is_clear =
        std::ranges::any_of(report.dial_gap->changes, [&](const call::Change& change) {
          return change.word == call::Word::clear &&
                 (change.from == setting || change.to == setting);
        });
    const auto* level = estimate_at(report.level, setting);
    const auto* gap = estimate_at(*report.dial_gap, setting);
    if (is_clear && level != nullptr && gap != nullptr)
      meanings.push_back({setting, level->value + gap->value, *level});
  }
  return meanings;
}

std::vector<int> counted_settings(const call::Report& report) {
  std::vector<int> counted;
  for (int setting = 0; setting < std::ssize(report.settings); ++setting) {
    if (estimate_at(report.level, setting) != nullptr) counted.push_back(setting);
  }
  return counted;
}

std::vector<const call::Change*> lay_changes(const call::Report& report) {
  std::vector<const call::Change*> all;
  for (const auto& tilt : report.tilts) append(all, tilt.tilt);
  for (const auto& spot : report.spots) append(all, spot.runs);
  return all;
}

std::vector<const call::Change*> worded_changes(const call::Report& report) {
  auto all = lay_changes(report);
  append(all, report.level);
  append(all, report.spread);
  if (report.dial_gap) append(all, *report.dial_gap);
  return all;
}

}  // namespace pitwright::report
