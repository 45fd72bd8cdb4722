#include "report/sentence.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <iterator>
#include <set>

#include <fmt/format.h>

#include "report/call_words.h"
#include "report/clauses.h"
#include "report/degrees.h"
#include "report/many_settings.h"
#include "report/text_width.h"
#include "report/trouble_words.h"

namespace pitwright::report {
namespace {

std::string run_together(std::initializer_list<std::string> parts) {
  std::string text;
  for (const auto& part : parts) {
    if (!part.empty()) text += (text.empty() ? "" : " ") + part;
  }
  return text;
}

/// Where several parts end with the same "; 2 more stints would probably settle it", the last one
/// says it for all.
std::string said_once(const CallView& view, std::string text) {
  std::set<std::string> needs;
  for (const auto* change : worded_changes(view.report)) needs.insert("; " + needs_text(*change));
  for (const auto& need : needs) {
    auto last = text.rfind(need);
    for (auto at = text.find(need); at < last; at = text.find(need, at)) {
      text.erase(at, need.size());
      last -= need.size();
    }
  }
  return text;
}

/// Nothing was counted at any setting.
std::string nothing_counts(const CallView& view) {
  if (view.report.live) return "Nothing counts yet. " + live_state_text(view);
  const auto& troubles = view.report.troubles;
  const auto grave = std::ranges::find_if(troubles, [](const call::Trouble& trouble) {
    return trouble.code == call::TroubleCode::still_warming ||
           trouble.code == call::TroubleCode::soak_unknown ||
           trouble.code == call::TroubleCode::stint_spoiled;
  });
  if (grave == troubles.end()) return "Nothing counts: no stint settled long enough to be read.";
  return "Nothing counts: " + trouble_reason(*grave, view.burn, view.scale) + ". " +
         as_sentence(trouble_mend(*grave));
}

/// "The right ran 38° hotter than the left (33 to 43)"; empty where the range holds zero.
std::string standing_tilt(const call::TiltCall& tilt, int setting, Scale scale) {
  const auto* estimate = estimate_at(tilt.tilt, setting);
  if (estimate == nullptr || (estimate->low <= 0 && estimate->high >= 0)) return "";
  const bool positive = estimate->value > 0;
  const auto size = spoken_change(*estimate, scale);
  switch (tilt.axis) {
    case call::Axis::left_right:
      return fmt::format("{} than the {} by {}", positive ? "the right hotter" : "the left hotter",
                         positive ? "left" : "right", size);
    case call::Axis::front_back:
      return fmt::format("{} than the {} by {}", positive ? "the back hotter" : "the front hotter",
                         positive ? "front" : "back", size);
    default:
      return fmt::format("{} than the {} by {}", positive ? "the top hotter" : "the bottom hotter",
                         positive ? "bottom" : "top", size);
  }
}

std::string one_setting(const CallView& view, int setting) {
  std::string lay;
  for (const auto& tilt : view.report.tilts) {
    const auto text = standing_tilt(tilt, setting, view.scale);
    if (!text.empty()) lay += "; " + text;
  }
  return fmt::format(
      "At {} the whole chamber ran at {}{}. One setting was counted, so there is no change to "
      "call.",
      spoken_setting(view, setting),
      spoken_reading(*estimate_at(view.report.level, setting), view.scale), lay);
}

/// Settings with a change to another that trouble did not spoil.
std::vector<int> telling_settings(const CallView& view, const std::vector<int>& settings) {
  const auto changes = unspoiled(worded_changes(view.report));
  std::vector<int> telling;
  std::ranges::copy_if(settings, std::back_inserter(telling), [&](int setting) {
    return std::ranges::any_of(changes, [&](const call::Change* change) {
      return change->from == setting || change->to == setting;
    });
  });
  return telling;
}

std::string two_settings(const CallView& view, int from, int to) {
  return run_together({lay_clause(view, from, to), spread_clause(view, from, to),
                       level_clause(view, from, to), sensor_clause(view, from, to),
                       dial_clause(view, from, to), muddled_clause(view, {from, to})});
}

std::string many_settings(const CallView& view, const std::vector<int>& settings) {
  std::string sensor;
  for (std::size_t i = 1; i < settings.size() && sensor.empty(); ++i) {
    sensor = sensor_clause(view, settings[i - 1], settings[i]);
  }
  return run_together({evenness_clause(view, settings), moves_clause(view, settings),
                       levels_clause(view, settings), sensor, muddled_clause(view, settings)});
}

/// What spoiled the settings that tell nothing at all.
std::string untold_settings(const CallView& view, const std::vector<int>& settings,
                            const std::vector<int>& telling) {
  std::string names;
  for (const int setting : settings) {
    if (std::ranges::count(telling, setting)) continue;
    names += (names.empty() ? "" : ", ") + spoken_setting(view, setting);
  }
  if (names.empty()) return "";
  Changes spoiled;
  for (const auto* change : worded_changes(view.report)) {
    if (!std::ranges::count(telling, change->from) || !std::ranges::count(telling, change->to)) {
      spoiled.push_back(change);
    }
  }
  return spoiled_text(view, "every comparison with " + names + " is muddled", spoiled);
}

}  // namespace

std::string sentence(const CallView& view) {
  const auto settings = counted_settings(view.report);
  if (settings.empty()) return nothing_counts(view);
  if (settings.size() == 1) return one_setting(view, settings.front());
  const auto telling = telling_settings(view, settings);
  if (telling.size() < 2) return spoiled_text(view, "muddled", worded_changes(view.report));
  const auto told = telling.size() == 2 ? two_settings(view, telling[0], telling[1])
                                        : many_settings(view, telling);
  return said_once(view, run_together({told, untold_settings(view, settings, telling)}));
}

}  // namespace pitwright::report
