#include "mapped/lay_view.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/expects.h"
#include "report/call_table.h"
#include "report/sizes.h"
#include "report/text_width.h"

namespace pitwright::mapped {
namespace {

/// The grate a place names, else the only one.
Result<const lay::GrateLay*> grate_of(const lay::Lay& lay, const LayWishes::Spot& spot) {
  const auto& grates = lay.settings.front().grates;
  if (spot.grate.empty() && grates.size() == 1) return &grates.front();
  const auto found = std::ranges::find(grates, spot.grate, &lay::GrateLay::grate);
  if (found != grates.end()) return &*found;
  std::vector<std::string> names;
  for (const auto& grate : grates) names.push_back(report::clean_name(grate.grate));
  if (spot.grate.empty())
    return fail(ErrorKind::bad_input, "the place needs a grate, such as X,Y,{}: there are {}",
                names.front(), fmt::join(names, ", "));
  return fail(ErrorKind::bad_input, "there is no grate '{}'; there are: {}",
              report::clean_name(spot.grate), fmt::join(names, ", "));
}

Result<AskedPlace> asked_place(const lay::Lay& lay, const LayWishes::Spot& spot, Scale scale) {
  const auto grate = grate_of(lay, spot);
  if (!grate) return std::unexpected(grate.error());
  const auto& g = **grate;
  constexpr double dust_m = 1e-9;
  const bool inside = spot.x_m >= g.x0_m - dust_m && spot.x_m <= g.x0_m + g.width_m + dust_m &&
                      spot.y_m >= g.y0_m - dust_m && spot.y_m <= g.y0_m + g.depth_m + dust_m;
  if (!inside)
    return fail(ErrorKind::bad_input,
                "{} and {} lies outside the {}, which the map covers from {} to {} across and from "
                "{} to {} deep",
                report::length_text(spot.x_m, scale), report::length_text(spot.y_m, scale),
                grate_name(g.grate), report::length_text(g.x0_m, scale),
                report::length_text(g.x0_m + g.width_m, scale), report::length_text(g.y0_m, scale),
                report::length_text(g.y0_m + g.depth_m, scale));
  const lay::Place place{spot.x_m, spot.y_m, g.z_m};
  return AskedPlace{place, g.grate, lay::at(lay, place)};
}

/// Mean outside air of a setting's counted time; empty where unknown.
std::optional<double> outside_of(const call::Together& together, int setting) {
  const auto s = static_cast<std::size_t>(setting);
  if (s >= together.outside_c.size() || !std::isfinite(together.outside_c[s])) return {};
  return together.outside_c[s];
}

std::optional<double> set_point_of(const Burn& burn) {
  if (!burn.pit.set_point) return {};
  return burn.pit.set_point->celsius();
}

/// The places a wish is about: those asked, else every grate as a whole.
std::vector<std::pair<std::string, lay::Patch>> patches(const LayView& view) {
  std::vector<std::pair<std::string, lay::Patch>> all;
  for (const auto& one : view.asked) {
    const auto& p = one.place;
    auto name = "at " + place_text(p, view.call.scale);
    if (view.lay.settings.front().grates.size() > 1) name += ", " + grate_name(one.grate);
    all.push_back({std::move(name), {p.x_m, p.x_m, p.y_m, p.y_m, p.z_m}});
  }
  if (!all.empty()) return all;
  for (const auto k : grates_from_top(view.lay)) {
    const auto& g = view.lay.settings.front().grates[k];
    all.push_back({"over the whole " + grate_name(g.grate),
                   {g.x0_m, g.x0_m + g.width_m, g.y0_m, g.y0_m + g.depth_m, g.z_m}});
  }
  return all;
}

DialFor dial_for(const LayView& view, const lay::Patch& patch, const std::string& where,
                 int setting, const LayWishes& wishes) {
  const auto outside = outside_of(view.call.report.together, call_setting(view, setting));
  const auto evidence =
      lay::dialed(view.lay, patch, setting, set_point_of(view.call.burn), outside);
  if (!evidence)
    return {
        *wishes.wanted_c, where,
        fail(ErrorKind::bad_input, "what was dialed is unknown: give set_point in the pit's file")};
  return {*wishes.wanted_c, where,
          lay::set_point_for(*wishes.wanted_c, wishes.outside_c, {*evidence})};
}

/// What the pit's own display showed on average at a setting; empty without a dial.
std::optional<double> shown_by_dial(const LayView& view, int setting) {
  const auto& together = view.call.report.together;
  const auto s = static_cast<std::size_t>(call_setting(view, setting));
  if (s >= together.dial_gap_k.size() || !std::isfinite(together.dial_gap_k[s])) return {};
  return together.level_c[s] + together.dial_gap_k[s];
}

std::optional<lay::Uniformity> uniformity_of(const LayView& view, int setting) {
  const auto& together = view.call.report.together;
  const int s = call_setting(view, setting);
  const auto records = lay::records_of(together, s);
  const auto made = lay::uniformity(
      records,
      {set_point_of(view.call.burn), shown_by_dial(view, setting), outside_of(together, s), {}});
  return made ? std::optional(*made) : std::nullopt;
}

}  // namespace

Result<LayView> view_of(const report::CallView& call, const lay::Lay& lay,
                        const LayWishes& wishes) {
  expects(!lay.settings.empty() && !lay.settings.front().grates.empty());
  LayView view{call, lay, wishes.band_k.value_or(call.burn.matters.kelvins()), {}, {}, {}};
  for (const auto& spot : wishes.places) {
    auto place = asked_place(lay, spot, call.scale);
    if (!place) return std::unexpected(place.error());
    view.asked.push_back(*std::move(place));
  }
  for (int s = 0; s < std::ssize(lay.settings); ++s) {
    view.uniformity.push_back(uniformity_of(view, s));
    std::vector<DialFor> dials;
    if (wishes.wanted_c) {
      for (const auto& [where, patch] : patches(view))
        dials.push_back(dial_for(view, patch, where, s, wishes));
    }
    view.dials.push_back(std::move(dials));
  }
  return view;
}

std::vector<std::size_t> grates_from_top(const lay::Lay& lay) {
  const auto& grates = lay.settings.front().grates;
  std::vector<std::size_t> order(grates.size());
  std::iota(order.begin(), order.end(), 0U);
  std::ranges::stable_sort(order, std::greater{}, [&](std::size_t k) { return grates[k].z_m; });
  return order;
}

std::string grate_name(const std::string& grate) {
  const auto name = report::clean_name(grate);
  if (name.empty()) return "grate";
  const bool says_so = name.find("grate") != std::string::npos ||
                       name.find("shelf") != std::string::npos ||
                       name.find("rack") != std::string::npos;
  return says_so ? name : name + " grate";
}

std::string place_text(const lay::Place& place, Scale scale) {
  return report::length_text(place.x_m, scale) + " from the left wall, " +
         report::length_text(place.y_m, scale) + " from the door side";
}

std::string setting_name(const LayView& view, int setting) {
  return report::clean_name(view.lay.settings[static_cast<std::size_t>(setting)].setting);
}

std::string short_head(const LayView& view, int setting) {
  return report::setting_head(view.call, call_setting(view, setting));
}

int call_setting(const LayView& view, int setting) {
  const auto& names = view.call.report.settings;
  const auto& name = view.lay.settings[static_cast<std::size_t>(setting)].setting;
  const auto found = std::ranges::find(names, name);
  expects(found != names.end());
  return static_cast<int>(found - names.begin());
}

}  // namespace pitwright::mapped
