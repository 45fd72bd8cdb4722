#pragma once

#include <span>
#include <vector>

namespace pitwright::browning {

/// How brown one slice came out.
struct Browned {
  double lightness;  ///< L* of its core
  double sd;         ///< of that number, without what differs from bread to bread
};

/// A thermometer that sat at a slice.
struct Anchor {
  int slice;      ///< index of the slice
  double heat_c;  ///< mean of the air while the bread toasted [degC]
  double sd_k;    ///< of that mean
};

struct LinkOptions {
  double white = 86.0;  ///< L* that bread has before any browning
  double black = 8.0;   ///< L* it ends at
};

/// Heat of every slice, in air-equivalent degrees.
struct Heats {
  std::vector<double> mean_c, sd_k;
  std::vector<double> covariance;  ///< n x n, row-major [K^2]: the link's error is common to slices
  double scatter_k = 0.0;          ///< mean of s: bread to bread, and what no smooth curve follows
  double steepness_k = 0.0;        ///< mean of b
  std::vector<double> apart;  ///< per anchor: chance that its slice got another heat than its air
};

/// The monotone link from browning to heat, fitted to the anchors.
///
///   T = a + b c(u) + e,   u = (white - L*) / (white - black),   e ~ N(0, s^2 + (b c' du)^2)
///   c is one of  4 (u - 1/2),  ln(u / (1 - u)),  ln(-ln(1 - u)):  each rises with u, b > 0
///   anchor: y = T - r + error;  r = 0 with chance 9/10, else N(0, (15 K)^2)
///
/// a has a flat prior; b, s, the three shapes and which anchors stand apart are integrated over
/// grids. An anchor can stand apart only where the others outnumber such anchors two to one.
/// One anchor gives level only (the steepness is then its prior's), from two on the steepness too.
/// Priors:   b log-normal about 18 K with sd 0.6 in ln; s half-t4 of scale 1.2 K.
/// Pre:      at least one anchor; anchors' slices exist; sds > 0; white > black.
/// Source:   first-order browning under an exponential of temperature is the third shape (textbook
///           kinetics); the other two stand for what ovens and breads do to it. Scales of the
///           priors are ours, docs/methods/toast.md.
Heats fit_link(std::span<const Browned> slices, std::span<const Anchor> anchors,
               const LinkOptions& options = {});

/// What the toast says at one anchor when that anchor is left out, less what its thermometer read.
struct Apart {
  double difference_k, low_k, high_k;  ///< joint 95 % over the anchors
  bool disagrees;                      ///< zero lies outside
};

/// One entry an anchor; empty below three anchors, where nothing remains to say it with.
std::vector<Apart> apart_from_air(std::span<const Browned> slices, std::span<const Anchor> anchors,
                                  const LinkOptions& options = {});

}  // namespace pitwright::browning
