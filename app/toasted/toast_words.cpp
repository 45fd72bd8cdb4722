#include "toasted/toast_words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/degrees.h"
#include "report/text_width.h"

namespace pitwright::toasted {
namespace {

using browning::Flaw;
using report::clean_name;
using report::size_text;

constexpr std::array all_flaws{Flaw::glare, Flaw::off_color, Flaw::raw,
                               Flaw::burnt, Flaw::touching,  Flaw::cut_off};

std::string_view reason(Flaw flaw) {
  switch (flaw) {
    case Flaw::none:
      return "";
    case Flaw::glare:
      return "glare, or too bright a photograph, hides the core";
    case Flaw::off_color:
      return "paler in color than bread of that lightness: a veil of glare, or no bread";
    case Flaw::raw:
      return "hardly browned: cooler than this toast can tell";
    case Flaw::burnt:
      return "black: hotter than this toast can tell";
    case Flaw::touching:
      return "slices that touch; leave a finger between them";
    case Flaw::cut_off:
      return "only a part of a slice was made out";
  }
  return "";
}

call::Estimate estimate(const browning::Ranged& ranged) {
  return {ranged.value, ranged.low, ranged.high};
}

/// "20° hotter on the right (14 to 26)", or empty where the range holds zero.
std::string tilt_clause(const std::optional<browning::Ranged>& tilt, std::string_view high_side,
                        std::string_view low_side, Scale scale) {
  if (!tilt || (tilt->low <= 0.0 && tilt->high >= 0.0)) return "";
  const bool up = tilt->value > 0.0;
  const auto shown = estimate(*tilt);
  const call::Estimate size = up ? shown : call::Estimate{-shown.value, -shown.high, -shown.low};
  return fmt::format("{} hotter {}", report::spoken_change(size, scale), up ? high_side : low_side);
}

std::string no_heat_sentence(const browning::ToastMap& map) {
  if (map.used.empty()) return "No slice counts: nothing can be said of the heat.";
  if (map.probes.empty())
    return "No thermometer was told: darker slices got more heat, but not by how many degrees. Add "
           "a "
           "[[probe]] that sat at a slice.";
  return "No thermometer sat at a slice that counts: darker slices got more heat, but not by how "
         "many degrees.";
}

}  // namespace

std::string_view flaw_word(Flaw flaw) {
  return flaw == Flaw::glare ? "shines" : flaw == Flaw::off_color ? "pale" : flaw_name(flaw);
}

std::string_view flaw_name(Flaw flaw) {
  switch (flaw) {
    case Flaw::none:
      return "";
    case Flaw::glare:
      return "glare";
    case Flaw::off_color:
      return "off color";
    case Flaw::raw:
      return "raw";
    case Flaw::burnt:
      return "burnt";
    case Flaw::touching:
      return "touching";
    case Flaw::cut_off:
      return "cut off";
  }
  return "";
}

std::string_view light_name(photo::LightFrom from) {
  switch (from) {
    case photo::LightFrom::grate:
      return "grate";
    case photo::LightFrom::cards:
      return "cards";
    case photo::LightFrom::none:
      return "none";
  }
  return "";
}

std::string toast_sentence(const ToastView& view) {
  const auto& map = view.toast.map;
  if (!map.level_c) return no_heat_sentence(map);
  std::vector<std::string> clauses;
  for (const auto& clause :
       {tilt_clause(map.left_right_k, "on the right", "on the left", view.scale),
        tilt_clause(map.front_back_k, "at the back", "at the front", view.scale)})
    if (!clause.empty()) clauses.push_back(clause);
  const auto [cool, hot] = std::ranges::minmax(
      map.used, {}, [&](int i) { return map.heats[static_cast<std::size_t>(i)]->mean_c; });
  const double span = map.heats[static_cast<std::size_t>(hot)]->mean_c -
                      map.heats[static_cast<std::size_t>(cool)]->mean_c;
  std::string sentence = clauses.empty()
                             ? std::string("The toast shows no tilt")
                             : fmt::format("The toast is {}", fmt::join(clauses, " and "));
  sentence += fmt::format("; hottest at slice {}, coolest at slice {}, {} apart.", hot + 1,
                          cool + 1, size_text(span, view.scale));
  const auto apart = std::ranges::count_if(
      map.probes, [](const auto& p) { return p.apart && p.apart->disagrees; });
  if (apart > 0)
    sentence += fmt::format(" Toast and air disagree at {} of {} probes.", apart, map.anchors);
  return sentence;
}

std::vector<std::string> left_out_sentences(const ToastView& view) {
  const auto& toast = view.toast;
  std::vector<std::string> all;
  for (const auto flaw : all_flaws) {
    std::vector<int> numbers;
    for (std::size_t i = 0; i < toast.map.flaws.size(); ++i)
      if (toast.map.flaws[i] == flaw) numbers.push_back(static_cast<int>(i) + 1);
    if (numbers.empty()) continue;
    all.push_back(fmt::format("slice{} {}: {}", numbers.size() > 1 ? "s" : "",
                              fmt::join(numbers, ", "), reason(flaw)));
  }
  const auto found = static_cast<int>(toast.seen.slices.size());
  if (toast.document.slices && *toast.document.slices != found)
    all.push_back(
        fmt::format("{} slices were found where {} were laid out: what is missing may "
                    "shine all over, touch, or lie outside the corners told",
                    found, *toast.document.slices));
  return all;
}

std::vector<std::string> apart_sentences(const ToastView& view) {
  std::vector<std::string> all;
  const auto& toast = view.toast;
  for (std::size_t j = 0; j < toast.map.probes.size(); ++j) {
    const auto& apart = toast.map.probes[j].apart;
    if (!apart || !apart->disagrees) continue;
    const bool more = apart->difference_k > 0.0;
    const call::Estimate size =
        more ? call::Estimate{apart->difference_k, apart->low_k, apart->high_k}
             : call::Estimate{-apart->difference_k, -apart->high_k, -apart->low_k};
    all.push_back(fmt::format(
        "at {} the bread got {} {} than the air there tells: {}",
        clean_name(toast.document.probes[j].spot), report::spoken_change(size, view.scale),
        more ? "more" : "less",
        more ? "radiant heat that a probe in the air does not see, or a probe that reads low"
             : "a slice shielded or damp, or a probe that touches metal or reads high"));
  }
  return all;
}

std::string light_text(const ToastView& view) {
  const auto& seen = view.toast.seen;
  if (seen.light_from == photo::LightFrom::none)
    return "taken as even over the grate: nothing to read its fall-off from" +
           std::string(view.toast.document.scene.light == photo::LightFrom::none
                           ? ""
                           : " (what lies between the slices is no even surface)");
  const auto place =
      seen.light_from == photo::LightFrom::grate ? "between the slices" : "from the cards";
  return fmt::format("brightest {:.1f} times darkest, read {} and taken out; {:.0f} % left over",
                     seen.light.ratio(), place, 100.0 * seen.light.residual_sd);
}

std::string card_text(const ToastView& view) {
  std::vector<std::string> others;
  const auto& cards = view.toast.seen.cards;
  for (std::size_t k = 1; k < cards.size(); ++k)
    others.push_back(fmt::format("card {} comes out at L* {:.0f} where {:.0f} is right", k + 1,
                                 cards[k].seen, cards[k].expected));
  std::string text = fmt::format("L* {:.0f} sets the scale", cards.front().expected);
  if (!others.empty()) text += fmt::format("; {}", fmt::join(others, ", "));
  if (view.toast.seen.untoasted)
    text += fmt::format("; untoasted bread L* {:.0f}", *view.toast.seen.untoasted);
  return text;
}

std::string anchor_text(const ToastView& view) {
  const auto& toast = view.toast;
  if (toast.map.probes.empty()) return "none";
  std::vector<std::string> unused;
  for (std::size_t j = 0; j < toast.map.probes.size(); ++j)
    if (!toast.map.probes[j].slice) unused.push_back(clean_name(toast.document.probes[j].spot));
  std::string text = fmt::format("{} of {} probes sat at a slice that counts", toast.map.anchors,
                                 toast.map.probes.size());
  if (!unused.empty()) text += fmt::format(" (not {})", fmt::join(unused, ", "));
  if (toast.map.anchors == 1)
    text += "; with one, how many degrees a shade is worth is borrowed from what is usual";
  if (toast.map.anchors > 0)
    text += fmt::format("; bread scatters by about {}", size_text(toast.map.scatter_k, view.scale));
  return text;
}

}  // namespace pitwright::toasted
