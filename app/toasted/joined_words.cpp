#include "toasted/joined_words.h"

#include <algorithm>

#include <fmt/format.h>

#include "mapped/lay_view.h"
#include "report/degrees.h"
#include "report/sizes.h"
#include "report/text_width.h"

namespace pitwright::toasted {
namespace {

constexpr double two_sided_95 = 1.959964;

std::string reach_text(double sd_k, Scale scale) {
  return "±" + report::limit_text(two_sided_95 * sd_k, scale);
}

call::Estimate size_of(const lay::ToastPlace& at) {
  return at.value_k > 0.0 ? call::Estimate{at.value_k, at.low_k, at.high_k}
                          : call::Estimate{-at.value_k, -at.high_k, -at.low_k};
}

}  // namespace

std::string joined_place_text(const ToastView& view, const lay::ToastPlace& at) {
  const auto shown = report::shown_difference({at.value_k, at.low_k, at.high_k}, view.scale);
  return fmt::format("about {}: {}° ({})", mapped::place_text(at.place, view.scale),
                     report::number_text(shown.value, shown.decimals, true),
                     report::range_text(shown));
}

std::string narrower_text(const ToastView& view) {
  const auto& s = view.toast.joined->summary;
  const auto both =
      fmt::format("half of the grate is known to {} or better; by thermometers alone, to {}",
                  reach_text(s.sd_k, view.scale), reach_text(s.sd_alone_k, view.scale));
  if (s.sd_k >= s.sd_alone_k) return both + ": the toast adds nothing";
  return fmt::format("{} ({} narrower)", both, report::share_text(1.0 - s.sd_k / s.sd_alone_k));
}

std::string disagreement_text(const ToastView& view) {
  const auto& s = view.toast.joined->summary;
  const auto& most = s.disagreement;
  auto text = fmt::format(
      "{}, surest about {}: bread got {} {} than the air there tells; {} that it is over {}",
      s.disagrees() ? "heat and air disagree" : "heat and air are not seen to disagree",
      mapped::place_text(most.place, view.scale), report::spoken_change(size_of(most), view.scale),
      most.value_k > 0.0 ? "more" : "less", report::chance_text(s.chance_matters),
      report::size_text(view.toast.joined->matters_k, view.scale));
  if (s.disagrees())
    text +=
        fmt::format(". On {} of the grate the range leaves zero out", report::share_text(s.share));
  return text;
}

std::string joined_sentence(const ToastView& view) {
  const auto& joined = *view.toast.joined;
  const auto& s = joined.summary;
  const double apart = s.hottest.value_k - s.coolest.value_k;
  auto text = fmt::format("Toast and thermometers joined: hottest and coolest air lie {} apart",
                          report::size_text(apart, view.scale));
  if (s.sd_k < s.sd_alone_k)
    text += fmt::format("; the map is {} narrower than by thermometers alone",
                        report::share_text(1.0 - s.sd_k / s.sd_alone_k));
  if (!s.disagrees()) return text + "; radiant heat and air are not seen to disagree.";
  return fmt::format("{}. Radiant heat and air disagree about {}, by {}.", text,
                     mapped::place_text(s.disagreement.place, view.scale),
                     report::spoken_change(size_of(s.disagreement), view.scale));
}

}  // namespace pitwright::toasted
