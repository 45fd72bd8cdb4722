#pragma once

#include <optional>
#include <string>
#include <vector>

#include "browning/color.h"
#include "browning/judge.h"
#include "browning/link.h"

namespace pitwright::browning {

/// A slice on the grate and how brown it is.
struct ToastSlice {
  double x_m, y_m;  ///< its middle, from the left and from the door
  double side_m;
  Lab color;
  double lightness_sd;
  Flaw flaw;  ///< what the photograph showed; color is judged here
};

/// A thermometer in the air while the bread toasted.
struct ToastProbe {
  std::string spot;
  double x_m, y_m;
  double heat_c;  ///< its mean over that time
  double sd_k;
};

struct ToastOptions {
  Limits limits;
  std::optional<double> untoasted;  ///< L* of a slice that saw no heat
};

/// A number with its 95 % range.
struct Ranged {
  double value, low, high;
};

/// What toast says of one slice; heat is in air-equivalent degC.
struct SliceHeat {
  double mean_c, sd_k;
  double run_k, run_sd_k;  ///< against the mean of all slices that count
};

struct ProbeCall {
  std::optional<int> slice;    ///< the one it sat at; empty where none that counts is near enough
  std::optional<Apart> apart;  ///< toast less air, told by the other probes
};

struct ToastMap {
  std::vector<Flaw> flaws;                      ///< per slice
  std::vector<std::optional<SliceHeat>> heats;  ///< per slice; empty: left out, or no probe
  std::vector<int> used;                        ///< slices that count, in order
  std::vector<double> covariance_k2;            ///< used x used, row-major; empty without a probe
  std::vector<ProbeCall> probes;
  int anchors = 0;                                   ///< probes that sat at a slice that counts
  std::optional<Ranged> level_c;                     ///< mean over the slices that count
  std::optional<Ranged> left_right_k, front_back_k;  ///< tilts: slope x extent of the slices
  double scatter_k = 0.0, steepness_k = 0.0;         ///< of the link
};

/// Judges the slices, fits the link where a probe sat at one, and sums up. An untoasted slice sets
/// what raw is: its L* less 4, and where the link begins. A probe sits at the slice whose middle is
/// nearest, within 0.75 of its side.
ToastMap map_toast(const std::vector<ToastSlice>& slices, const std::vector<ToastProbe>& probes,
                   const ToastOptions& options = {});

/// What of each used slice's variance [K^2] is its own: the rest is an offset and a stretch that
/// all slices share (the link's a and b), which a map joined with other thermometers finds anew.
/// Empty without a probe or with fewer than three slices.
std::vector<double> own_variances(const ToastMap& map);

}  // namespace pitwright::browning
