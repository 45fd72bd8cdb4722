#include "report/sentence.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include <fmt/format.h>

#include "report/call_words.h"
#include "report/clauses.h"
#include "report/degrees.h"
#include "report/many_settings.h"
#include "report/text_width.h"
#include "report/trouble_words.h"

namespace pitwright::report {
namespace {

using call::Word;

std::string run_together(std::initializer_list<std::string> parts) {
  std::string text;
  for (const auto& part : parts) {
    if (!part.empty()) text += (text.empty() ? "" : " ") + part;
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

/// All questions muddled: what spoiled them is the whole story.
bool is_all_muddled(const CallView& view) {
  return all_are(worded_changes(view.report), Word::muddled);
}

std::string two_settings(const CallView& view, int from, int to) {
  return run_together({lay_clause(view, from, to), spread_clause(view, from, to),
                       level_clause(view, from, to), sensor_clause(view, from, to),
                       dial_clause(view, from, to)});
}

std::string many_settings(const CallView& view, const std::vector<int>& settings) {
  std::string sensor;
  for (std::size_t i = 1; i < settings.size() && sensor.empty(); ++i) {
    sensor = sensor_clause(view, settings[i - 1], settings[i]);
  }
  return run_together({evenness_clause(view, settings), moves_clause(view, settings),
                       levels_clause(view, settings), sensor});
}

}  // namespace

std::string sentence(const CallView& view) {
  const auto settings = counted_settings(view.report);
  if (settings.empty()) return nothing_counts(view);
  if (is_all_muddled(view)) return muddled_clause(view, "", worded_changes(view.report));
  if (settings.size() == 1) return one_setting(view, settings.front());
  return settings.size() == 2 ? two_settings(view, settings[0], settings[1])
                              : many_settings(view, settings);
}

}  // namespace pitwright::report
