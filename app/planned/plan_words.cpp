#include "planned/plan_words.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/degrees.h"
#include "report/moments.h"
#include "report/sizes.h"
#include "report/text_width.h"

namespace pitwright::planned {
namespace {

using design::Missing;
using report::duration_text;
using report::size_text;

std::string question_text(design::Question question) {
  switch (question) {
    case design::Question::level:
      return "whether the level changed";
    case design::Question::lay:
      return "whether heat moved from spot to spot";
    case design::Question::tilt:
      return "whether heat moved along an axis";
  }
  std::unreachable();
}

std::string missing_text(Missing missing) {
  switch (missing) {
    case Missing::width:
      return "its width (width = \"36 in\")";
    case Missing::depth:
      return "its depth (depth = \"18 in\")";
    case Missing::grates:
      return "its grates ([[grate]] with name and height)";
    case Missing::grate_height:
      return "the height of a grate (height = \"6 in\")";
    case Missing::sensor_place:
      return "";  // a pit's file has no place for it: see sensor_note
  }
  std::unreachable();
}

std::string missing_note(const PlanView& view) {
  std::vector<std::string> parts;
  for (const auto missing : view.design.spots.missing) {
    auto text = missing_text(missing);
    if (!text.empty()) parts.push_back(std::move(text));
  }
  if (parts.empty()) return "";
  return fmt::format("The pit's file does not say {}: what depends on it is left open.",
                     fmt::join(parts, ", nor "));
}

std::string habits_note(const PlanView& view) {
  const auto& habits = view.design.habits;
  const auto name = report::clean_name(habits.learned_from);
  if (!habits.learned)
    return "Nothing is known of this pit yet: swing and lag are what is common for its fire "
           "(common "
           "practice, no source), drift and noise those of made-up pits of all sorts. An earlier "
           "burn "
           "of it says more: --from BURN.";
  return fmt::format("Swing, lag, drift and noise as {} showed them{}.",
                     name.empty() ? "the earlier burn" : "\"" + name + "\"",
                     habits.lag_borrowed ? "; its lag could not be seen and is a common one" : "");
}

std::string soak_note(const PlanView& view) {
  if (view.wishes.soak_s) return "";
  if (view.design.habits.soak_learned) return "The soak is as long as that of the earlier burn.";
  return "The soak is a guess: 30 min to reach heat and 30 min after it, as for thin steel; a clay "
         "pot "
         "takes 45 to 60 min or more after reaching heat, a heavy offset an hour, brick two "
         "(common "
         "practice, no source). Say it with --soak.";
}

}  // namespace

std::string order_text(const PlanView& view, const design::Plan& plan) {
  std::vector<std::string> names;
  bool is_short = true;
  for (const int setting : plan.order) {
    names.push_back(report::clean_name(view.wishes.settings[static_cast<std::size_t>(setting)]));
    is_short = is_short && report::display_width(names.back()) == 1;
  }
  return fmt::format("{}", fmt::join(names, is_short ? " " : ", "));
}

std::string fuel_text(const design::FuelNeed& need, Scale scale) {
  constexpr double kg_per_lb = 0.45359237;
  const bool metric = scale == Scale::celsius;
  const double per = metric ? 1.0 : kg_per_lb;
  return fmt::format("{:.{}f} to {:.{}f} {}", need.low_kg / per, metric ? 1 : 0, need.high_kg / per,
                     metric ? 1 : 0, metric ? "kg" : "lb");
}

std::string place_text(const design::PlannedSpot& spot, Scale scale) {
  std::vector<std::string> parts;
  if (spot.x_m) parts.push_back(report::length_text(*spot.x_m, scale) + " from the left wall");
  if (spot.y_m) parts.push_back(report::length_text(*spot.y_m, scale) + " from the door side");
  if (spot.z_m && (spot.x_m || spot.y_m || !spot.beside_sensor))
    parts.push_back(report::length_text(*spot.z_m, scale) + " up");
  return fmt::format("{}", fmt::join(parts, ", "));
}

std::string plan_sentence(const PlanView& view) {
  const auto& plan = view.design.plans[static_cast<std::size_t>(view.design.recommended)];
  const auto matters = size_text(view.wishes.matters.kelvins(), view.scale);
  const auto twice = size_text(2.0 * view.wishes.matters.kelvins(), view.scale);
  const auto how = fmt::format("{} at {} a stint, {} from lighting", order_text(view, plan),
                               duration_text(plan.dwell_s), duration_text(plan.burn_s));
  const auto odds = report::chance_text(plan.asked.chances[0].no_odds);
  const auto clear = report::chance_text(plan.asked.chances[2].clear);
  const auto chances =
      fmt::format("chance of \"no odds\" where nothing changed {}, of \"clear\" where {} did {}",
                  odds, twice, clear);
  if (plan.settles)
    return fmt::format("{}, will probably settle {}, if {} matters: {}.", how,
                       question_text(view.wishes.question), matters, chances);
  return fmt::format(
      "None of these plans is likely to settle {}, if {} matters. The best of them: {}; {}. A "
      "longer "
      "burn day, or a larger difference that matters, would.",
      question_text(view.wishes.question), matters, how, chances);
}

std::vector<std::string> notes(const PlanView& view) {
  std::vector<std::string> all = {habits_note(view), soak_note(view), missing_note(view)};
  if (view.design.left_out > 0)
    all.push_back(fmt::format("{} longer plan{} not fit into the time.", view.design.left_out,
                              view.design.left_out == 1 ? " does" : "s do"));
  if (view.design.spots.rounds.size() > 1)
    all.push_back("Hours, fuel and what will be told are those of one round.");
  if (view.design.plans.front().fuel)
    all.push_back(
        "Fuel is a rule of thumb: the usual rate at this heat plus a quarter; wind and cold "
        "can take half as much again (common practice, no source).");
  all.push_back(
      "Chances hold for a burn that nothing muddles: no front, no lid left open, no bad probe.");
  std::erase_if(all, [](const std::string& note) { return note.empty(); });
  return all;
}

}  // namespace pitwright::planned
