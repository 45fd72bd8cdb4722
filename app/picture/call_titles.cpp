#include "picture/call_titles.h"

#include <fmt/format.h>

#include "report/moments.h"
#include "report/text_width.h"

namespace pitwright::picture {

std::string burn_title(const report::CallView& view) {
  const auto& burn = view.burn;
  return report::clean_name(burn.title.empty() ? burn.pit.name : burn.title);
}

std::string burn_facts(const report::CallView& view) {
  std::string facts;
  const auto add = [&facts](const std::string& fact) {
    if (!fact.empty()) facts += (facts.empty() ? "" : " · ") + fact;
  };
  const auto pit = report::clean_name(view.burn.pit.name);
  if (pit != burn_title(view)) add(pit);
  add(report::day_text(view.burn));
  const auto spots = view.report.spots.size();
  add(fmt::format("{} spot{}", spots, spots == 1 ? "" : "s"));
  std::string order;
  for (const auto& stint : view.report.stints) {
    order += (order.empty() ? "" : ", ") + report::setting_name(view, stint.setting);
  }
  constexpr int longest_order = 60;
  if (!order.empty()) add("stints " + report::shortened(order, longest_order));
  return facts;
}

}  // namespace pitwright::picture
