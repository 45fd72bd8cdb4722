#include "lay/prepare.h"

#include <algorithm>
#include <cmath>

#include "lay/chamber.h"

namespace pitwright::lay {
namespace {

constexpr double same_place_m = 0.01;
constexpr double least_sd_k = 0.02;  ///< of any spot's error: no reading is better than this

std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

/// Error covariance of one spot between two settings, thermometer included.
double error_of(const call::SpotTogether& spot, int settings, int s, int t) {
  const double own = spot.covariance_k2[index(s * settings + t)];
  return own + spot.probe_sd_k * spot.probe_sd_k + (s == t ? least_sd_k * least_sd_k : 0.0);
}

/// Settings with a level and a run somewhere on the map.
void choose_settings(const call::Together& together, const std::vector<int>& placed,
                     Prepared& prepared) {
  const int all = static_cast<int>(together.settings.size());
  for (int s = 0; s < all; ++s) {
    const bool counted =
        std::isfinite(together.level_c[index(s)]) && std::ranges::any_of(placed, [&](int i) {
          return std::isfinite(together.spots[index(i)].run_k[index(s)]);
        });
    if (counted)
      prepared.settings.push_back(s);
    else
      prepared.uncounted.push_back(together.settings[index(s)]);
  }
}

void fill_observations(const call::Together& together, const std::vector<int>& placed,
                       Prepared& prepared) {
  auto& data = prepared.data;
  const int all = static_cast<int>(together.settings.size());
  std::vector<double> z;
  for (int i = 0; i < std::ssize(placed); ++i) {
    const auto& spot = together.spots[index(placed[index(i)])];
    auto& shown = prepared.spots[index(i)].by_setting;
    for (int k = 0; k < data.settings; ++k) {
      const int s = prepared.settings[index(k)];
      shown.emplace_back();
      if (!std::isfinite(spot.run_k[index(s)])) continue;
      shown.back() = {spot.run_k[index(s)], std::sqrt(error_of(spot, all, s, s))};
      data.spot.push_back(i);
      data.setting.push_back(k);
      z.push_back(spot.run_k[index(s)]);
    }
  }
  data.z = Eigen::Map<const Eigen::VectorXd>(z.data(), std::ssize(z));
  data.error = Eigen::MatrixXd::Zero(std::ssize(z), std::ssize(z));
  for (int a = 0; a < data.count(); ++a)
    for (int b = 0; b < data.count(); ++b)
      if (data.spot[index(a)] == data.spot[index(b)])
        data.error(a, b) = error_of(together.spots[index(placed[index(data.spot[index(a)])])], all,
                                    prepared.settings[index(data.setting[index(a)])],
                                    prepared.settings[index(data.setting[index(b)])]);
}

/// Which share of the level each spot is, and what the level's spots off the map add.
void fill_level(const call::Together& together, const std::vector<int>& placed,
                Prepared& prepared) {
  auto& data = prepared.data;
  const int all = static_cast<int>(together.settings.size());
  const auto in_level = std::ranges::count_if(together.spots, &call::SpotTogether::in_level);
  const double share = 1.0 / static_cast<double>(std::max<std::ptrdiff_t>(1, in_level));
  data.level_share = Eigen::VectorXd::Zero(std::ssize(placed));
  data.unplaced_k = Eigen::VectorXd::Zero(data.settings);
  data.unplaced_error = Eigen::MatrixXd::Zero(data.settings, data.settings);
  for (int i = 0; i < std::ssize(together.spots); ++i) {
    const auto& spot = together.spots[index(i)];
    if (!spot.in_level) continue;
    const auto found = std::ranges::find(placed, i);
    if (found != placed.end()) {
      data.level_share(found - placed.begin()) = share;
      continue;
    }
    data.unplaced_share += share;
    for (int k = 0; k < data.settings; ++k) {
      const int s = prepared.settings[index(k)];
      data.unplaced_k(k) += share * spot.run_k[index(s)];
      for (int l = 0; l < data.settings; ++l)
        data.unplaced_error(k, l) +=
            share * share * error_of(spot, all, s, prepared.settings[index(l)]);
    }
  }
}

}  // namespace

Result<Prepared> prepare(const Pit& pit, const call::Together& together, int nodes_x, int nodes_y) {
  Prepared prepared;
  const auto places = places_of(pit, together.spots);
  std::vector<int> placed;
  for (int i = 0; i < std::ssize(together.spots); ++i) {
    const auto& spot = together.spots[index(i)];
    if (!places.at.row(i).allFinite()) {
      prepared.unplaced.push_back(spot.spot);
      continue;
    }
    placed.push_back(i);
    prepared.spots.push_back({spot.spot,
                              spot.channel,
                              spot.grate,
                              {places.at(i, 0), places.at(i, 1), places.at(i, 2)},
                              spot.in_level,
                              {}});
  }
  if (placed.empty())
    return fail(ErrorKind::bad_input,
                "no air probe has a position: give x and y of its spot, such as x = \"6 in\", y = "
                "\"4 in\"");
  choose_settings(together, placed, prepared);
  if (prepared.settings.empty())
    return fail(ErrorKind::bad_input,
                "no setting has counted time yet: a lay needs at least one stint that counts");
  auto& data = prepared.data;
  data.places = places.at(placed, Eigen::all);
  if (placed.size() == 1)
    return fail(ErrorKind::bad_input,
                "only the spot \"{}\" has a position: a lay needs air probes at two places or more",
                prepared.spots.front().spot);
  if ((data.places.rowwise() - data.places.row(0)).rowwise().norm().maxCoeff() < same_place_m)
    return fail(
        ErrorKind::bad_input,
        "all spots with a position lie at one place (that of \"{}\"): a lay needs air probes "
        "at two places or more",
        prepared.spots.front().spot);
  const auto box = box_of(pit, data.places);
  data.middle = 0.5 * (box.low + box.high);
  data.extent = box.high - box.low;
  data.settings = static_cast<int>(prepared.settings.size());
  fill_observations(together, placed, prepared);
  fill_level(together, placed, prepared);
  prepared.grates = grates_of(pit, box, prepared.spots, nodes_x, nodes_y);
  prepared.notes = place_notes(data.places, box);
  if (!prepared.unplaced.empty()) prepared.notes.push_back(LayNote::no_position);
  if (places.height_assumed) prepared.notes.push_back(LayNote::height_assumed);
  const int all = static_cast<int>(together.settings.size());
  for (const int s : prepared.settings) {
    prepared.level_c.push_back(together.level_c[index(s)]);
    prepared.level_sd_k.push_back(
        std::sqrt(std::max(0.0, together.level_covariance_k2[index(s * all + s)])));
  }
  return prepared;
}

}  // namespace pitwright::lay
