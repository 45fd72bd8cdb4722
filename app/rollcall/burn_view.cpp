#include "rollcall/burn_view.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/text_width.h"

namespace pitwright::rollcall {

Result<BurnView> view_of_burn(const std::filesystem::path& path, std::optional<Scale> scale) {
  auto open = burns::open_burn(path);
  if (!open) return std::unexpected(open.error());
  auto read = understood::of_burn(path);
  if (!read) return std::unexpected(read.error());
  auto seen = call::see_thermometers(open->burn);
  const auto own = open->burn.scale;
  return BurnView{*std::move(open), std::move(seen), std::move(read->logs), scale.value_or(own)};
}

std::string sentence(const BurnView& view) {
  std::vector<std::string> troubled, unchecked;
  bool any_checked = false;
  for (const auto& trouble : view.seen.troubles) {
    const auto name = report::clean_name(trouble.where);
    if (trouble.kind == call::TroubleKind::probe &&
        std::ranges::find(troubled, name) == troubled.end())
      troubled.push_back(name);
  }
  for (const auto& probe : view.seen.probes) {
    any_checked = any_checked || probe.uncertainty_k.has_value();
    const auto name = report::clean_name(probe.channel);
    if (!probe.uncertainty_k && std::ranges::find(unchecked, name) == unchecked.end())
      unchecked.push_back(name);
  }
  std::string text = troubled.empty()
                         ? std::string("The log shows nothing wrong with its thermometers.")
                         : fmt::format("The log casts doubt on {}.", fmt::join(troubled, ", "));
  if (!unchecked.empty()) {
    text += any_checked ? fmt::format(" Nobody checked {}.", fmt::join(unchecked, ", "))
                        : std::string(" Nobody checked any of them in ice, boil or a bundle.");
  }
  if (std::ranges::any_of(view.seen.troubles,
                          [](const auto& t) { return t.kind == call::TroubleKind::clock; }))
    text += " Its loggers' clocks are known only roughly.";
  return text;
}

}  // namespace pitwright::rollcall
