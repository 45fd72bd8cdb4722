#include "report/trouble_words.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "report/degrees.h"
#include "report/moments.h"
#include "report/text_width.h"
#include "report/weather_words.h"

namespace pitwright::report {
namespace {

using call::Trouble;
using call::TroubleCode;

/// "probe A1 (left front)", "probe A1" or, without a name, "a probe".
std::string probe_name(const Trouble& trouble, const Burn& burn) {
  if (trouble.where.empty()) return "a probe";
  const auto name = clean_name(trouble.where);
  const auto found = std::ranges::find(burn.probes, trouble.where, &Probe::channel);
  if (found == burn.probes.end() || found->spot.empty() || found->spot == trouble.where) {
    return "probe " + name;
  }
  return fmt::format("probe {} ({})", name, clean_name(found->spot));
}

/// "stint 3 (B)"; without the stint its setting, as `where` names it.
std::string stint_name(const Trouble& trouble, const Burn& burn) {
  if (trouble.stint && *trouble.stint >= 0 && *trouble.stint < std::ssize(burn.stints)) {
    const auto& stint = burn.stints[static_cast<std::size_t>(*trouble.stint)];
    return fmt::format("stint {} ({})", *trouble.stint + 1, clean_name(stint.setting));
  }
  return trouble.where.empty() ? "one stint" : clean_name(trouble.where);
}

/// Which question a second look is about: "the level", "the left-right tilt", a spot, or "the
/// call".
std::string question_name(const Trouble& trouble) {
  const auto& where = trouble.where;
  if (where.empty()) return "the call";
  if (where == "level" || where == "spread") return "the " + where;
  if (where == "dial") return "the dial gap";
  const bool is_tilt = where == name_of(call::Axis::left_right) ||
                       where == name_of(call::Axis::front_back) ||
                       where == name_of(call::Axis::top_bottom);
  return is_tilt ? "the " + where + " tilt" : clean_name(where);
}

std::string probe_reason(const Trouble& trouble, const Burn& burn, Scale scale) {
  const auto probe = probe_name(trouble, burn);
  switch (trouble.code) {
    case TroubleCode::probe_dead:
      return fmt::format("{} is dead: it never moves, or shows what no chamber can be", probe);
    case TroubleCode::probe_frozen:
      return fmt::format("{} froze for {} while the others moved", probe,
                         duration_text(trouble.amount));
    case TroubleCode::probe_missing:
      return fmt::format("{} gave no reading for {}", probe, duration_text(trouble.amount));
    case TroubleCode::probe_touching:
      return fmt::format(
          "{} shows only {:.0f} % of its neighbors' swing, and late: touching metal?", probe,
          100.0 * trouble.amount);
    case TroubleCode::probe_jump:
      return fmt::format("{} jumped by {} while no other did", probe,
                         offset_text(trouble.amount, scale));
    case TroubleCode::probe_offset:
      return fmt::format(
          "by having changed places, probe {} reads {} more than probe {}: it is the "
          "thermometer, not the spot",
          clean_name(trouble.where), size_text(trouble.amount, scale), clean_name(trouble.against));
    default:
      return fmt::format("the answer rests on {}: without it the change moves by {}", probe,
                         size_text(trouble.amount, scale));
  }
}

std::string warming_reason(const Trouble& trouble, const Burn& burn, Scale scale) {
  const bool named = trouble.stint || !trouble.where.empty();
  return fmt::format(
      "the pit was still heating{}{}", named ? " in " + stint_name(trouble, burn) : "",
      trouble.amount > 0.0 ? fmt::format(", with {} to come", size_text(trouble.amount, scale))
                           : std::string());
}

std::optional<double> place_of(const Probe& probe, call::Axis axis) {
  return axis == call::Axis::left_right   ? probe.x_m
         : axis == call::Axis::front_back ? probe.y_m
                                          : probe.z_m;
}

/// "the left side", where these are just the spots of one half of the chamber; else "".
std::string side_of_spots(const std::vector<std::string>& spots, const Burn& burn) {
  constexpr std::tuple<call::Axis, std::string_view, std::string_view> halves[] = {
      {call::Axis::left_right, "the left side", "the right side"},
      {call::Axis::front_back, "the front", "the back"},
      {call::Axis::top_bottom, "the bottom", "the top"}};
  for (const auto& [axis, low_side, high_side] : halves) {
    double low = HUGE_VAL, high = -HUGE_VAL;
    bool known = true;
    for (const auto& probe : burn.probes) {
      if (probe.role != Role::air) continue;
      const auto at = place_of(probe, axis);
      known = known && at;
      low = std::min(low, at.value_or(low));
      high = std::max(high, at.value_or(high));
    }
    if (!known || !(high > low)) continue;
    bool is_low = true, is_high = true;
    for (const auto& probe : burn.probes) {
      if (probe.role != Role::air) continue;
      const bool below = *place_of(probe, axis) < 0.5 * (low + high);
      const bool slow = std::ranges::find(spots, probe.spot) != spots.end();
      is_low = is_low && below == slow;
      is_high = is_high && below != slow;
    }
    if (is_low || is_high) return std::string(is_low ? low_side : high_side);
  }
  return "";
}

/// `where` names the spots, with ", " between them.
std::string one_sided_reason(const Trouble& trouble, const Burn& burn, Scale scale) {
  std::vector<std::string> spots;
  for (std::size_t at = 0; at < trouble.where.size();) {
    const auto comma = std::min(trouble.where.find(", ", at), trouble.where.size());
    spots.push_back(trouble.where.substr(at, comma - at));
    at = comma + 2;
  }
  auto side = side_of_spots(spots, burn);
  side = side.empty() ? clean_name(trouble.where)
                      : fmt::format("{} ({})", side, clean_name(trouble.where));
  return fmt::format(
      "after the lid {} is spoiled for {} only, {} short of where it was: what that weighs in is "
      "not counted there, the rest is",
      stint_name({trouble.kind, trouble.code, "", {}, 0.0, trouble.stint}, burn), side,
      size_text(trouble.amount, scale));
}

std::string burn_reason(const Trouble& trouble, const Burn& burn, Scale scale) {
  const auto amount = size_text(trouble.amount, scale);
  switch (trouble.code) {
    case TroubleCode::lid_marked:
      return fmt::format("the lid was open: {} left out with its recovery",
                         duration_text(trouble.amount));
    case TroubleCode::lid_unmarked:
      return fmt::format("a dip of {} looks like a lid that nobody marked", amount);
    case TroubleCode::stint_spoiled:
      return fmt::format("nothing counts of {}", stint_name(trouble, burn));
    case TroubleCode::lid_one_sided:
      return one_sided_reason(trouble, burn, scale);
    case TroubleCode::still_warming:
      return warming_reason(trouble, burn, scale);
    case TroubleCode::soak_unknown:
      return "swing or gusts hide whether the pit is soaked";
    case TroubleCode::weather_changed:
      return weather_reason(trouble, scale);
    case TroubleCode::weather_balanced:
      return front_reason(trouble, scale);
    case TroubleCode::order_confounded:
      return "each setting came once, one after the other, so a drift of the fire looks like a "
             "change";
    case TroubleCode::one_stint_decides:
      return fmt::format(
          "the answer on {} rests on {}: without it the change moves by {}", question_name(trouble),
          stint_name({trouble.kind, trouble.code, "", {}, 0.0, trouble.stint}, burn), amount);
    case TroubleCode::halves_disagree:
      return fmt::format("the first and the second half of the burn disagree by {} about {}",
                         amount, question_name(trouble));
    default:
      return fmt::format("the loggers' clocks agree only within {}", duration_text(trouble.amount));
  }
}

}  // namespace

std::string trouble_reason(const Trouble& trouble, const Burn& burn, Scale scale) {
  const bool about_probe = trouble.code <= TroubleCode::probe_jump ||
                           trouble.code == TroubleCode::one_probe_decides ||
                           trouble.code == TroubleCode::probe_offset;
  return about_probe ? probe_reason(trouble, burn, scale) : burn_reason(trouble, burn, scale);
}

std::string trouble_mend(const Trouble& trouble) {
  switch (trouble.code) {
    case TroubleCode::probe_dead:
      return "Check its plug and cable";
    case TroubleCode::probe_frozen:
      return "That stretch is left out";
    case TroubleCode::lid_marked:
      return "";
    case TroubleCode::probe_missing:
      return "Check its plug, cable and range";
    case TroubleCode::probe_touching:
      return "Bend its tip clear of the metal";
    case TroubleCode::probe_jump:
      return "If it was moved, give its places with from and to";
    case TroubleCode::lid_unmarked:
      return "If it was the lid, mark it as an event";
    case TroubleCode::stint_spoiled:
      return "Repeat that stint";
    case TroubleCode::lid_one_sided:
      return "Repeat that stint if those spots are what you ask about";
    case TroubleCode::still_warming:
      return "Let it soak longer, then repeat those stints";
    case TroubleCode::soak_unknown:
      return trouble.amount > 0 ? "Wait another " + duration_text(trouble.amount) + " to be sure"
                                : "Wait longer before the first stint";
    case TroubleCode::weather_changed:
      return "Two more stints in steady weather, in mirrored order, would probably separate them";
    case TroubleCode::weather_balanced:
      return front_mend(trouble);
    case TroubleCode::order_confounded:
      return "Run the settings again in the reverse order";
    case TroubleCode::one_stint_decides:
      return "Repeat that stint's setting once more";
    case TroubleCode::halves_disagree:
      return "Two more stints in mirrored order would probably show which half to trust";
    case TroubleCode::one_probe_decides:
      return "Swap that probe with a neighbor and repeat both settings";
    case TroubleCode::clocks_uncertain:
      return "Mark one moment that every logger sees, such as a lid clap";
    case TroubleCode::probe_offset:
      return "Check both, and give a correction";
  }
  std::unreachable();
}

std::string trouble_text(const Trouble& trouble, const Burn& burn, Scale scale) {
  const auto mend = trouble_mend(trouble);
  const auto reason = as_sentence(trouble_reason(trouble, burn, scale));
  return mend.empty() ? reason : reason + " " + as_sentence(mend);
}

std::string as_sentence(std::string clause) {
  if (clause.empty()) return clause;
  const auto first = static_cast<unsigned char>(clause.front());
  if (first < 0x80) clause.front() = static_cast<char>(std::toupper(first));
  if (clause.back() != '.' && clause.back() != '?') clause += '.';
  return clause;
}

}  // namespace pitwright::report
