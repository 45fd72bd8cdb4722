#include "trial.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <numeric>

#include <nlohmann/json.hpp>

namespace pitwright::bench {
namespace {

using browning::Flaw;

constexpr double two_sided_95 = 1.959964;

std::vector<double> ranks(const std::vector<double>& values) {
  std::vector<double> rank;
  for (const double v : values) {
    double below = 0.0, same = 0.0;
    for (const double w : values) {
      below += w < v ? 1.0 : 0.0;
      same += w == v ? 1.0 : 0.0;
    }
    rank.push_back(below + 0.5 * (same - 1.0));
  }
  return rank;
}

double mean(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double root_mean_square(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double v : values) sum += v * v;
  return values.empty() ? 0.0 : std::sqrt(sum / static_cast<double>(values.size()));
}

const TrueSlice& nearest(const std::vector<TrueSlice>& truth, double x_m, double y_m) {
  return *std::ranges::min_element(
      truth, {}, [&](const TrueSlice& t) { return std::hypot(t.x_m - x_m, t.y_m - y_m); });
}

void count_flaw(ToastTrial& trial, Flaw flaw, const TrueSlice& truth) {
  const bool for_color = flaw == Flaw::raw || flaw == Flaw::burnt;
  if (truth.glare) ++trial.glare;
  if (truth.glare && flaw != Flaw::none) ++trial.glare_left_out;
  if (truth.glare && flaw == Flaw::glare) ++trial.glare_named;
  if (!truth.glare && flaw != Flaw::none && !for_color) ++trial.left_out_wrongly;
}

void count_probes(ToastTrial& trial, const toast::Toast& toast,
                  const std::vector<TrueSlice>& truth) {
  for (std::size_t j = 0; j < toast.map.probes.size(); ++j) {
    const auto& call = toast.map.probes[j];
    if (!call.apart) continue;
    const auto& probe = toast.document.probes[j];
    const auto& at = nearest(truth, probe.x_m, probe.y_m);
    const double more = at.heat_f - at.air_f;
    const bool said = call.apart->disagrees;
    if (more >= 10.0) {
      ++trial.radiant_probes;
      trial.radiant_said += said && call.apart->difference_k > 0.0 ? 1 : 0;
    } else if (more < 3.0) {
      ++trial.even_probes;
      trial.even_said += said ? 1 : 0;
    }
  }
}

}  // namespace

std::vector<TrueSlice> read_truth(const std::filesystem::path& path) {
  std::ifstream file(path);
  const auto json = nlohmann::json::parse(file);
  std::vector<TrueSlice> all;
  for (const auto& one : json.at("slices"))
    all.push_back({one.at("x"), one.at("y"), one.at("heat"), one.at("air"), one.at("lightness"),
                   one.at("glare")});
  return all;
}

double spearman(const std::vector<double>& a, const std::vector<double>& b) {
  const auto ra = ranks(a), rb = ranks(b);
  const double ma = mean(ra), mb = mean(rb);
  double ab = 0.0, aa = 0.0, bb = 0.0;
  for (std::size_t i = 0; i < ra.size(); ++i) {
    ab += (ra[i] - ma) * (rb[i] - mb);
    aa += (ra[i] - ma) * (ra[i] - ma);
    bb += (rb[i] - mb) * (rb[i] - mb);
  }
  return ab / std::sqrt(aa * bb);
}

ToastTrial judged(const toast::Toast& toast, const std::vector<TrueSlice>& truth) {
  ToastTrial trial;
  trial.laid = static_cast<int>(truth.size());
  trial.found = static_cast<int>(toast.seen.slices.size());
  std::vector<double> dark, heat, off, light_off;
  for (std::size_t i = 0; i < toast.seen.slices.size(); ++i) {
    const auto& slice = toast.seen.slices[i];
    const auto& at = nearest(truth, slice.x_m, slice.y_m);
    trial.place_mm =
        std::max(trial.place_mm, 1000.0 * std::hypot(at.x_m - slice.x_m, at.y_m - slice.y_m));
    count_flaw(trial, toast.map.flaws[i], at);
    if (toast.map.flaws[i] != Flaw::none) continue;
    dark.push_back(-slice.color.lightness);
    heat.push_back(at.heat_f);
    light_off.push_back(slice.color.lightness - at.lightness);
    const auto& told = toast.map.heats[i];
    if (!told) continue;
    off.push_back(told->mean_c * 1.8 + 32.0 - at.heat_f);
    trial.covered += std::abs(off.back()) <= two_sided_95 * told->sd_k * 1.8 ? 1 : 0;
  }
  trial.counted = static_cast<int>(dark.size());
  trial.spearman = dark.size() > 2 ? spearman(dark, heat) : 0.0;
  trial.rms_f = root_mean_square(off);
  const double shift = light_off.empty() ? 0.0 : mean(light_off);
  for (auto& d : light_off) d -= shift;
  trial.lightness_rms = root_mean_square(light_off);
  count_probes(trial, toast, truth);
  return trial;
}

namespace {

/// The probes as a call would give them: one setting, errors of the thermometers only.
call::Together thermometers_of(const std::vector<browning::ToastProbe>& probes) {
  call::Together all;
  all.settings = {"toasting"};
  double level = 0.0, sd2 = 0.0;
  const auto n = static_cast<double>(probes.size());
  for (const auto& probe : probes) {
    level += probe.heat_c / n;
    sd2 += probe.sd_k * probe.sd_k / (n * n);
  }
  all.level_c = {level};
  all.level_covariance_k2 = {0.01};
  all.level_probe_sd_k = std::sqrt(sd2);
  for (const auto& probe : probes) {
    call::SpotTogether spot;
    spot.spot = spot.channel = probe.spot;
    spot.grate = "grate";
    spot.x_m = probe.x_m;
    spot.y_m = probe.y_m;
    spot.z_m = 0.2;
    spot.in_level = true;
    spot.probe_sd_k = probe.sd_k;
    spot.covariance_k2 = {0.01};
    spot.run_k = {probe.heat_c - level};
    spot.counted.push_back({100, probe.heat_c, 1.0, probe.heat_c - 3.0, probe.heat_c + 3.0});
    all.spots.push_back(spot);
  }
  return all;
}

/// The node whose cell a place lies in.
double value_at(const lay::GrateLay& ground, const lay::Grid& grid, double x_m, double y_m) {
  const auto cell = [](double at, double from, double size, std::size_t count) {
    const auto n = static_cast<double>(count);
    return static_cast<std::size_t>(std::clamp((at - from) / size * n, 0.0, n - 1.0));
  };
  return grid[cell(y_m, ground.y0_m, ground.depth_m, ground.y_m.size())]
             [cell(x_m, ground.x0_m, ground.width_m, ground.x_m.size())];
}

double rms_about_mean(std::vector<double> values) {
  const double shift = mean(values);
  for (auto& v : values) v -= shift;
  return root_mean_square(values);
}

}  // namespace

Result<JoinTrial> joined(const toast::Toast& toast, const std::vector<TrueSlice>& truth) {
  Pit pit;
  pit.width_m = toast.document.scene.width_m;
  pit.depth_m = toast.document.scene.depth_m;
  pit.height_m = 0.4;
  pit.grates = {{"grate", 0.2}};
  const auto thermometers = thermometers_of(toast.document.probes);
  const auto made = toast::join(pit, thermometers, {"toasting", "grate", 0.0, 0.0, 10.0 / 1.8},
                                toast.seen, toast.map);
  if (!made) return std::unexpected(made.error());
  JoinTrial trial{};
  std::vector<double> alone, heat, joint;
  const double level_f = thermometers.level_c.front() * 1.8 + 32.0;
  double level_air_f = 0.0;  // of the true air at the thermometers: what runs are counted from
  for (const auto& probe : toast.document.probes)
    level_air_f += nearest(truth, probe.x_m, probe.y_m).air_f /
                   static_cast<double>(toast.document.probes.size());
  for (const int i : toast.map.used) {
    const auto& slice = toast.seen.slices[static_cast<std::size_t>(i)];
    const double air_f = nearest(truth, slice.x_m, slice.y_m).air_f;
    const double run_f = air_f - level_air_f;
    const auto at = [&](const lay::Grid& grid) {
      return 1.8 * value_at(made->alone(), grid, slice.x_m, slice.y_m);
    };
    alone.push_back(at(made->alone().value_k) - run_f);
    joint.push_back(at(made->map.value_k) - run_f);
    heat.push_back(toast.map.heats[static_cast<std::size_t>(i)]->mean_c * 1.8 + 32.0 - level_f -
                   run_f);
    ++trial.counted;
    trial.covered += std::abs(joint.back()) <= two_sided_95 * at(made->map.sd_k) ? 1 : 0;
  }
  trial.alone_f = rms_about_mean(alone);
  trial.toast_f = rms_about_mean(heat);
  trial.joint_f = rms_about_mean(joint);
  return trial;
}

}  // namespace pitwright::bench
