#include "report/trouble_words.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "report/degrees.h"
#include "report/moments.h"
#include "report/text_width.h"

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

/// " in <where>" style tail; empty where the trouble concerns the whole burn.
std::string tail(std::string_view preposition, const Trouble& trouble) {
  return trouble.where.empty() ? "" : fmt::format(" {} {}", preposition, clean_name(trouble.where));
}

std::string moved(std::string_view what, double amount, std::string_view size) {
  return fmt::format("{} {} {}", what, amount < 0 ? "fell" : "rose", size);
}

std::string weather_reason(const Trouble& trouble, const Burn& burn, Scale scale) {
  const auto found = std::ranges::find(burn.probes, trouble.where, &Probe::channel);
  const auto role = found == burn.probes.end() ? Role::food : found->role;
  const std::string_view when = "while the settings changed";
  if (role == Role::outside) {
    return fmt::format(
        "{} {}", moved("the outside air", trouble.amount, size_text(trouble.amount, scale)), when);
  }
  if (role == Role::wind) {
    constexpr double km_in_mile = 1.609344;  // exact: the international mile
    const bool miles = scale == Scale::fahrenheit;
    const double speed = std::abs(trouble.amount) / (miles ? km_in_mile : 1.0);
    const auto size = fmt::format("{:.0f} {}", speed, miles ? "mph" : "km/h");
    return fmt::format("{} {}", moved("the wind", trouble.amount, size), when);
  }
  return fmt::format("the weather changed{} {}", tail("at", trouble), when);
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
    default:
      return fmt::format("the answer rests on {}: without it a change moves by {}", probe,
                         size_text(trouble.amount, scale));
  }
}

std::string stint_name(const Trouble& trouble) {
  return trouble.where.empty() ? "one stint" : clean_name(trouble.where);
}

std::string burn_reason(const Trouble& trouble, const Burn& burn, Scale scale) {
  const auto amount = size_text(trouble.amount, scale);
  switch (trouble.code) {
    case TroubleCode::lid_marked:
      return fmt::format("the lid was open: {} left out with its recovery",
                         duration_text(trouble.amount));
    case TroubleCode::lid_unmarked:
      return fmt::format("a dip of {}{} looks like a lid that nobody marked", amount,
                         tail("at", trouble));
    case TroubleCode::stint_spoiled:
      return fmt::format("nothing counts of {}", stint_name(trouble));
    case TroubleCode::still_warming:
      return fmt::format("the pit was still heating{}, with {} to come", tail("in", trouble),
                         amount);
    case TroubleCode::soak_unknown:
      return "swing or gusts hide whether the pit is soaked";
    case TroubleCode::weather_changed:
      return weather_reason(trouble, burn, scale);
    case TroubleCode::order_confounded:
      return "each setting came once, one after the other, so a drift of the fire looks like a "
             "change";
    case TroubleCode::one_stint_decides:
      return fmt::format("the answer rests on {}: without it a change moves by {}",
                         stint_name(trouble), amount);
    case TroubleCode::halves_disagree:
      return fmt::format("the first and the second half of the burn disagree by {}", amount);
    default:
      return fmt::format("the loggers' clocks agree only within {}", duration_text(trouble.amount));
  }
}

}  // namespace

std::string trouble_reason(const Trouble& trouble, const Burn& burn, Scale scale) {
  const bool about_probe =
      trouble.code <= TroubleCode::probe_jump || trouble.code == TroubleCode::one_probe_decides;
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
    case TroubleCode::still_warming:
      return "Let it soak longer, then repeat those stints";
    case TroubleCode::soak_unknown:
      return trouble.amount > 0 ? "Wait another " + duration_text(trouble.amount) + " to be sure"
                                : "Wait longer before the first stint";
    case TroubleCode::weather_changed:
      return "Two more stints in steady weather, in mirrored order, would probably separate them";
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
