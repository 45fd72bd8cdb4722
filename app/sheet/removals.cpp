#include "sheet/removals.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "call/call.h"

namespace pitwright::sheet {
namespace {

using call::Change;
using call::Quantity;

/// Names in order of first appearance.
template <class Range, class Name>
std::vector<std::string> distinct(const Range& range, Name name) {
  std::vector<std::string> all;
  for (const auto& one : range) {
    const auto text = name(one);
    if (!text.empty() && std::ranges::find(all, text) == all.end()) all.push_back(text);
  }
  return all;
}

void turn_round(Change& change) {
  std::swap(change.from, change.to);
  if (change.estimate)
    change.estimate = {-change.estimate->value, -change.estimate->high, -change.estimate->low};
  change.word_low = -std::exchange(change.word_high, -change.word_low);
}

/// `place[k]` is where setting k goes.
void move_changes(std::vector<Change>& changes, const std::vector<int>& place) {
  for (auto& change : changes) {
    change.from = place[static_cast<std::size_t>(change.from)];
    change.to = place[static_cast<std::size_t>(change.to)];
    if (change.from > change.to) turn_round(change);
  }
  std::ranges::sort(changes, {}, [](const Change& c) { return std::pair(c.from, c.to); });
}

void move_settings(Quantity& quantity, const std::vector<int>& place) {
  for (auto& entry : quantity.by_setting)
    entry.setting = place[static_cast<std::size_t>(entry.setting)];
  std::ranges::sort(quantity.by_setting, {}, &call::SettingEstimate::setting);
  move_changes(quantity.changes, place);
}

}  // namespace

call::Report in_order_of(call::Report report, const std::vector<std::string>& wanted) {
  const auto count = report.settings.size();
  std::vector<int> order(count);
  std::iota(order.begin(), order.end(), 0);
  std::ranges::stable_sort(order, {}, [&](int setting) {
    return std::ranges::find(wanted, report.settings[static_cast<std::size_t>(setting)]) -
           wanted.begin();
  });
  std::vector<int> place(count);
  std::vector<std::string> settings;
  for (std::size_t k = 0; k < count; ++k) {
    place[static_cast<std::size_t>(order[k])] = static_cast<int>(k);
    settings.push_back(report.settings[static_cast<std::size_t>(order[k])]);
  }
  report.settings = std::move(settings);
  for (auto& stint : report.stints) stint.setting = place[static_cast<std::size_t>(stint.setting)];
  move_settings(report.level, place);
  move_settings(report.spread, place);
  for (auto& tilt : report.tilts) move_settings(tilt.tilt, place);
  if (report.dial_gap) move_settings(*report.dial_gap, place);
  for (auto& spot : report.spots) {
    move_settings(spot.runs, place);
    move_changes(spot.reading_changes, place);
  }
  return report;
}

Burn without_spot(const Burn& burn, const std::string& spot) {
  Burn left = burn;
  std::erase_if(left.probes,
                [&](const Probe& probe) { return probe.role == Role::air && probe.spot == spot; });
  return left;
}

Burn without_stint(const Burn& burn, int stint) {
  Burn left = burn;
  left.stints.erase(left.stints.begin() + stint);
  return left;
}

std::vector<Removal> single_removals(const Burn& burn) {
  const auto spots = distinct(burn.probes, [](const Probe& probe) {
    return probe.role == Role::air ? probe.spot : std::string();
  });
  const auto settings = distinct(burn.stints, [](const Stint& stint) { return stint.setting; });
  std::vector<Removal> all;
  const auto called = [&](const Burn& left) -> Result<call::Report> {
    auto report = call::make_call(left);
    if (!report) return report;
    return in_order_of(*std::move(report), settings);
  };
  if (spots.size() > 1)
    for (const auto& spot : spots)
      all.push_back({Removal::Kind::spot, spot, -1, called(without_spot(burn, spot))});
  if (burn.stints.size() < 2) return all;
  for (int stint = 0; stint < std::ssize(burn.stints); ++stint) {
    auto report = called(without_stint(burn, stint));
    if (report) {
      for (auto& left : report->stints) left.index += left.index >= stint ? 1 : 0;
      for (auto& trouble : report->troubles)
        if (trouble.stint && *trouble.stint >= stint) ++*trouble.stint;
    }
    all.push_back({Removal::Kind::stint, "", stint, std::move(report)});
  }
  return all;
}

}  // namespace pitwright::sheet
