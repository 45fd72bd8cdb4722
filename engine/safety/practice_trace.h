#pragma once

#include <string>
#include <utility>
#include <vector>

#include "pit/burn.h"

namespace pitwright::safety {

/// A food probe of piece "P" that reads what it is told [degF], checked to +- tolerance_f.
inline Probe food_probe(const std::string& channel,
                        const std::vector<std::pair<double, double>>& at_s_degf,
                        double tolerance_f = 0.0) {
  Probe probe;
  probe.channel = channel;
  probe.role = Role::food;
  probe.piece = "P";
  probe.uncertainty = TemperatureDelta::from_fahrenheit_degrees(tolerance_f);
  for (const auto& [at, fahrenheit] : at_s_degf) {
    probe.readings.seconds.push_back(at);
    probe.readings.values.push_back((fahrenheit - 32.0) / 1.8);
  }
  return probe;
}

/// Straight lines between corners (seconds, degF), a reading every `step_s`, both ends too.
inline std::vector<std::pair<double, double>> lines(
    const std::vector<std::pair<double, double>>& corners, double step_s) {
  std::vector<std::pair<double, double>> out;
  std::size_t leg = 0;
  for (double at = corners.front().first; at <= corners.back().first + 1e-9; at += step_s) {
    while (leg + 2 < corners.size() && at > corners[leg + 1].first) ++leg;
    const auto& [a, from] = corners[leg];
    const auto& [b, to] = corners[leg + 1];
    out.emplace_back(at, from + (to - from) * (at - a) / (b - a));
  }
  return out;
}

inline Burn burn_with(std::vector<Probe> probes, Piece piece = {}) {
  Burn burn;
  burn.probes = std::move(probes);
  piece.name = "P";
  burn.pieces = {std::move(piece)};
  return burn;
}

}  // namespace pitwright::safety
