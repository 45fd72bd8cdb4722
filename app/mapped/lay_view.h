#pragma once

#include <optional>
#include <string>
#include <vector>

#include "call/report.h"
#include "lay/lay.h"
#include "lay/set_point.h"
#include "lay/uniformity.h"
#include "report/call_view.h"

namespace pitwright::mapped {

/// A place asked about, and what the lay says of it.
struct AskedPlace {
  lay::Place place;
  std::string grate;
  std::vector<lay::AtPlace> at;  ///< one entry a setting of the lay
};

/// What to dial at one setting, or why that cannot be said.
struct DialFor {
  double wanted_c = 0.0;
  std::string where;  ///< "over the whole main grate", "at 2 in from the left wall, ..."
  Result<lay::SetPointFor> answer;
};

/// What every page of a lay is made from. Vectors over settings follow Lay::settings.
struct LayView {
  report::CallView call;  ///< the call it rests on, with burn and scale
  const lay::Lay& lay;
  double band_k;  ///< half width of the band asked about
  std::vector<AskedPlace> asked;
  std::vector<std::vector<DialFor>> dials;  ///< per setting; empty where nothing was wanted
  std::vector<std::optional<lay::Uniformity>> uniformity;
};

/// What a person wants to know beside the map.
struct LayWishes {
  std::optional<double> band_k;     ///< else what matters to the burn
  std::optional<double> wanted_c;   ///< heat to bring about: at the places asked, else over grates
  std::optional<double> outside_c;  ///< today's outside air, for what to dial
  struct Spot {
    double x_m, y_m;
    std::string grate;  ///< may be empty where there is one
  };
  std::vector<Spot> places;
};

/// Answers the wishes on a lay that was made.
/// Fails: bad_input where a place names no grate of the lay or lies outside it.
Result<LayView> view_of(const report::CallView& call, const lay::Lay& lay, const LayWishes& wishes);

/// Grates of the lay from the top down: indexes into SettingLay::grates.
std::vector<std::size_t> grates_from_top(const lay::Lay& lay);

/// "main grate", "grate" where it has no name.
std::string grate_name(const std::string& grate);

/// "4 in from the left wall, 2 in from the door side".
std::string place_text(const lay::Place& place, Scale scale);

/// Setting's name, fit for a terminal and JSON.
std::string setting_name(const LayView& view, int setting);

/// The name, or "(2)" (its number in the burn) where it is too long for a heading.
std::string short_head(const LayView& view, int setting);

/// Index of a lay's setting among those of the call.
int call_setting(const LayView& view, int setting);

}  // namespace pitwright::mapped
